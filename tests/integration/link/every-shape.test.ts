import type { LineShape, Reading } from '@taptrue/protocol';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { SYSTEM_CLOCK } from '@taptrue/server/devices/transport/clock.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { sourceFor } from '@taptrue/server/devices/transport/source-for.ts';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { countUnderCrc, digitsUnderXor } from '../../unit/devices/formats/packed-shapes.ts';
import type { Device } from './device.ts';
import { memoryDevice } from './memory-device.ts';
import { noPtyBecause, ptyDevice } from './pty-device.ts';

const ALL = [...SHAPES, digitsUnderXor, countUnderCrc];

/** Opens the device by its shape while its samples come again and again, and gives the first readings. */
async function readingsOf(device: Device, shape: LineShape): Promise<Reading[]> {
  const config = {
    source: device.source,
    shape: shape.name,
    unit: 'as sent' as const,
    channel: null,
    ...(sendsUnit(shape) ? {} : { unit: 'mm' as const }),
  };
  const readings: Reading[] = [];
  const link = new Link({
    name: 'indicator',
    config,
    clock: SYSTEM_CLOCK,
    source: sourceFor({
      name: 'indicator',
      config,
      shape,
      clock: SYSTEM_CLOCK,
      simulatedPipes: () => device.pipe!,
    }),
    onReading: (reading) => readings.push(reading),
    onReport: () => undefined,
  });
  link.open();
  // One sample is enough to see the bytes through, in three pieces that no frame ends with.
  const { frame } = shape.samples[0]!;
  const pieces = [frame.slice(0, 2), frame.slice(2, -1), frame.slice(-1)];
  let at = 0;
  const timer = setInterval(() => {
    device.send(pieces[at % 3]!);
    at += 1;
  }, 4);
  try {
    await expect
      .poll(() => readings.length, { timeout: 8000, interval: 5 })
      .toBeGreaterThanOrEqual(3);
  } finally {
    clearInterval(timer);
    await link.close();
  }
  return readings;
}

function sendsUnit(shape: LineShape): boolean {
  return shape.samples[0]!.unit !== null;
}

const carriers: [string, () => Promise<Device>][] = [['memory', memoryDevice]];
if (noPtyBecause() === null) carriers.push(['a pseudo-terminal', ptyDevice]);

describe.each(carriers)('over %s', (_carrier, makeDevice) => {
  let device: Device;
  beforeAll(async () => {
    device = await makeDevice();
  });
  afterAll(() => device.stop());

  it.each(ALL.map((shape) => [shape.name, shape] as const))(
    '%s is read whole and right',
    async (_name, shape) => {
      const [sample] = shape.samples;
      for (const reading of await readingsOf(device, shape)) {
        expect(reading).toMatchObject({
          value: sample!.value,
          channel: sample!.channel,
          status: sample!.status,
        });
      }
    },
  );
});
