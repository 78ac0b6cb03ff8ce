import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { SYSTEM_CLOCK } from '@taptrue/server/devices/transport/clock.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { sourceFor } from '@taptrue/server/devices/transport/source-for.ts';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { Device } from './device.ts';
import { noPtyBecause, ptyDevice } from './pty-device.ts';

describe.skipIf(noPtyBecause() !== null)('a serial port of this system', () => {
  let device: Device;
  const links: Link[] = [];

  beforeAll(async () => {
    device = await ptyDevice();
  });
  afterEach(async () => {
    await Promise.all(links.splice(0).map((link) => link.close()));
  });
  afterAll(() => device.stop());

  function opened(shapeName: string) {
    const shape = shapeNamed(shapeName)!;
    const values: (number | null)[] = [];
    const config = {
      source: device.source,
      shape: shapeName,
      unit: 'mm',
      channel: null,
    } as const;
    const clock = SYSTEM_CLOCK;
    const simulatedPipes = () => device.pipe!;
    const link = new Link({
      name: 'indicator',
      config,
      source: sourceFor({ name: 'indicator', config, shape, clock, simulatedPipes }),
      clock,
      onReading: (reading) => values.push(reading.value),
      onReport: () => undefined,
    });
    links.push(link);
    link.open();
    return { link, values };
  }

  it('that is already open is refused as busy, and taken up once it is let go', async () => {
    const first = opened('signed-decimal-by-key');
    await expect.poll(() => first.link.report().state).toBe('waiting for its key');
    const second = opened('signed-decimal-by-key');
    await expect
      .poll(() => second.link.report())
      .toMatchObject({
        state: 'refused',
        fault: { code: 'port-busy' },
      });
    await first.link.close();
    await expect
      .poll(() => second.link.report().state, { timeout: 3000 })
      .toBe('waiting for its key');
  });

  it('is not called idle because this process stood still while the end of a frame came', async () => {
    const { link, values } = opened('signed-decimal-by-key');
    await expect.poll(() => link.report().state, { interval: 1 }).toBe('waiting for its key');
    device.send('45.0 mm\r\n');
    const standStillUntilMs = performance.now() + 400;
    while (performance.now() < standStillUntilMs);
    await expect.poll(() => link.report().counters.partialFramesDropped).toBe(1);
    device.send('-12.345 mm\r\n');
    await expect.poll(() => values).toEqual([-12.345]);
  });

  it('gives the first press of a key whole where it stood idle before', async () => {
    const { link, values } = opened('signed-decimal-by-key');
    await expect.poll(() => link.report().state).toBe('waiting for its key');
    await new Promise((resolve) => setTimeout(resolve, 400));
    device.send('-12.345 mm\r\n');
    await expect.poll(() => values).toEqual([-12.345]);
  });
});
