import type { LinkConfig } from '@taptrue/protocol';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { LineSource } from '@taptrue/server/devices/transport/line-source.ts';
import { MemoryTransport } from '@taptrue/server/devices/transport/memory.ts';
import { PortShare } from '@taptrue/server/devices/transport/share-port.ts';
import { LEADS, type Lead } from '@taptrue/simulators/leads.ts';
import { type ControlLines, WiredDevice } from '@taptrue/simulators/wired-device.ts';
import { describe, expect, it } from 'vitest';
import { passUntil } from '../finding/found-device.ts';
import { OneClock } from '../finding/one-clock.ts';
import { PlaysSamples } from '../finding/plays-samples.ts';

const SHAPE = shapeNamed('signed-decimal')!;

/** One live link on this lead, its port opened with these levels; the device streams where it has power. */
async function linked(lead: Lead, lines: ControlLines, stopsAfterMs = Number.POSITIVE_INFINITY) {
  const clock = new OneClock();
  const settings = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 } as const;
  const wired = new WiredDevice({
    device: new PlaysSamples(SHAPE, clock, 10),
    settings,
    clock,
    leadSigns: lead.leadSigns,
    wakes: (given) => clock.now() < stopsAfterMs && lead.wakes(given),
  });
  const config: LinkConfig = {
    source: { kind: 'serial', path: '/dev/ttyUSB0', settings, lines },
    shape: SHAPE.name,
    unit: 'in',
    channel: null,
  };
  const maker = new PortShare(() => clock.now()).through(
    'one',
    () =>
      new MemoryTransport({
        title: '/dev/ttyUSB0',
        pipe: wired.pipe(settings, lines),
        now: () => clock.now(),
      }),
  );
  const source = new LineSource({ name: 'indicator', config, maker, shape: SHAPE, clock });
  const link = new Link({
    name: 'indicator',
    config,
    source,
    clock,
    onReading: () => undefined,
    onReport: () => undefined,
  });
  link.open();
  await passUntil(clock, 4000, () => link.report().state === 'silent');
  const report = link.report();
  await link.close();
  return report;
}

const BOTH_UP = { dtr: true, rts: true };
const ACROSS = { dtr: true, rts: false };

describe('a live link that is silent from the moment it was opened', () => {
  it('says that no power is seen, at which levels, and that a two-wire lead looks the same', async () => {
    const { state, fault } = await linked(LEADS.fedDataWires, BOTH_UP);
    expect(state).toBe('silent');
    expect(fault).toMatchObject({
      code: 'line-silent',
      got: 'nothing since it was opened; CTS, DSR and DCD off',
    });
    expect(fault?.remedy).toMatch(
      /No power is seen on the interface lines, with DTR up and RTS up/,
    );
    expect(fault?.remedy).toMatch(/only its data wires never shows any.*Find tries/);
  });

  it('says that the port cannot raise the lines, where it refused to', async () => {
    const { fault } = await linked(LEADS.refusesLines, BOTH_UP);
    expect(fault?.remedy).toMatch(/^This port cannot raise DTR and RTS/);
  });

  it.each([
    ['a status line is on', LEADS.ownSupply],
    ['the lines cannot be read', LEADS.cannotBeRead],
  ])('says nothing of power where %s', async (_what, lead) => {
    const { fault } = await linked({ ...lead, wakes: () => false }, BOTH_UP);
    expect(fault).toMatchObject({ code: 'line-silent', got: '' });
    expect(fault?.remedy).not.toMatch(/power/);
  });
});

describe('a lead fed by DTR and RTS on a live link', () => {
  it('is live with the levels it was found with', async () => {
    expect((await linked(LEADS.fedDataWires, ACROSS)).state).toBe('live');
  });

  it('that spoke and then falls silent had power: nothing is said of it', async () => {
    const { state, fault } = await linked(LEADS.fedDataWires, ACROSS, 1500);
    expect(state).toBe('silent');
    expect(fault?.remedy).not.toMatch(/power/);
  });
});
