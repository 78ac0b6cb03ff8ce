import type { FindSection, PortSettings } from '@taptrue/protocol';
import { find } from '@taptrue/server/cli/find-command.ts';
import { FindController } from '@taptrue/server/devices/finding/find-controller.ts';
import { configOf } from '@taptrue/server/devices/finding/find-on.ts';
import { SHAPES, shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { MemoryTransport } from '@taptrue/server/devices/transport/memory.ts';
import type { SerialOptions } from '@taptrue/server/devices/transport/serial.ts';
import { LEADS, type Lead } from '@taptrue/simulators/leads.ts';
import { WiredDevice } from '@taptrue/simulators/wired-device.ts';
import { describe, expect, it } from 'vitest';
import { passUntil, searchOn } from './found-device.ts';
import { OneClock } from './one-clock.ts';
import { PlaysSamples } from './plays-samples.ts';

const USUAL: PortSettings = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 };
const PATH = '/dev/ttyUSB0';

/** One port in memory with this lead on it and a device behind: sends by itself, or only at its key. */
function portWith(lead: Lead, sends: 'by itself' | 'at its key', clock: OneClock, perSecond = 10) {
  const shape = shapeNamed('signed-decimal')!;
  const device = new PlaysSamples(
    sends === 'by itself' ? shape : { ...shape, trigger: 'its own key' },
    clock,
    perSecond,
  );
  const wired = new WiredDevice({ device, settings: USUAL, clock, ...lead });
  const openSerial = ({ path, settings, signals }: SerialOptions) =>
    new MemoryTransport({
      title: path,
      pipe: wired.pipe(settings, signals),
      now: () => clock.now(),
    });
  return { wired, openSerial };
}

/** What each lead leads to where its device sends nothing: code, and words that must and must not be said. */
const SILENT: [keyof typeof LEADS, string, RegExp, RegExp][] = [
  ['refusesLines', 'find-no-power', /cannot raise DTR and RTS/, /no power is seen/],
  ['fedWithoutPower', 'find-no-power-seen', /no power is seen on the interface lines/, /something/],
  ['fedDataWires', 'find-no-power-seen', /no power is seen/, /something/],
  [
    'fedAllWires',
    'find-far-end-on',
    /DSR is on with DTR up, RTS down and not otherwise/,
    /no power/,
  ],
  [
    'ownSupply',
    'find-far-end-on',
    /DSR is on at the far end.*most likely something there has power/,
    /no power/,
  ],
  [
    'bridged',
    'find-lead-sends-back',
    /go on and off with ours, DSR and DCD with DTR, CTS with RTS.*cannot be told/,
    /there has power|no power/,
  ],
  ['cannotBeRead', 'find-nothing-came', /Nothing at all came/, /no power/],
];

async function silentEnd(name: keyof typeof LEADS) {
  const clock = new OneClock();
  const { wired } = portWith(LEADS[name], 'at its key', clock);
  const search = searchOn({
    clock,
    pipeFor: (tuning, settings) => wired.pipe(settings, tuning.lines),
  });
  await passUntil(clock, 200_000, () => search.find.now.ending !== null);
  const { ending } = search.find.now;
  await search.find.close();
  if (ending?.kind !== 'nothing') throw new Error(`ended with ${ending?.kind}`);
  return { fault: ending.fault, tookMs: search.tookMs() };
}

describe('where not a byte comes, power at the far end is told as far as the port shows it', () => {
  it.each(SILENT)('lead "%s": %s', async (name, code, says, never) => {
    const { fault, tookMs } = await silentEnd(name);
    expect(fault.code).toBe(code);
    expect(fault.what).toMatch(says);
    expect(fault.what).not.toMatch(never);
    expect(tookMs).toBeLessThan(60_000);
  });

  it('a lead that shows nothing may also be one with two wires: that is said, and what to check', async () => {
    const { fault } = await silentEnd('fedWithoutPower');
    expect(fault.got).toContain('CTS off, DSR off, DCD off');
    expect(fault.remedy).toMatch(/only the data wires.*only silent/);
    expect(fault.remedy).toMatch(/in at both ends.*all nine pins/);
  });

  it('a line that stays on may be the adapter’s: how to find out is said', async () => {
    const { fault } = await silentEnd('ownSupply');
    expect(fault.remedy).toMatch(/Pull the lead out.*it is the adapter/);
  });

  it('lines that cannot be read are said to be that, not to be off', async () => {
    const { fault } = await silentEnd('cannotBeRead');
    expect(fault.got).toContain('could not be read');
    expect(fault.remedy).toContain('cannot be seen on this port');
    expect(`${fault.what} ${fault.got}`).not.toMatch(/\boff\b/);
  });
});

describe('a lead that takes its power from DTR and RTS', () => {
  it.each(['fedDataWires', 'fedAllWires'] as const)(
    '"%s" is found, said to be silent otherwise, and kept so with the port',
    async (name) => {
      const clock = new OneClock();
      const { wired } = portWith(LEADS[name], 'by itself', clock);
      const { find: search } = searchOn({
        clock,
        pipeFor: (tuning, settings) => wired.pipe(settings, tuning.lines),
      });
      await passUntil(clock, 15_000, () => search.now.step?.kind === 'question');
      const { step } = search.now;
      if (step?.kind !== 'question') throw new Error('nothing was asked');
      expect(step.silentOtherwise).toBe(true);
      const source = { kind: 'serial', path: PATH, settings: null } as const;
      expect(configOf(source, step.candidate, step.tuning).source).toMatchObject({
        lines: { dtr: true, rts: false },
      });
      await search.close();
    },
  );

  it('is not said of a device that was only slow to wake: it speaks with both lines up as well', async () => {
    const clock = new OneClock();
    const wakesAtMs = clock.now() + 4000;
    const slow: Lead = { ...LEADS.cannotBeRead, wakes: () => clock.now() > wakesAtMs };
    const { wired } = portWith(slow, 'by itself', clock);
    const { find: search } = searchOn({
      clock,
      pipeFor: (tuning, settings) => wired.pipe(settings, tuning.lines),
    });
    await passUntil(clock, 30_000, () => search.now.step?.kind === 'question');
    const { step } = search.now;
    if (step?.kind !== 'question') throw new Error('nothing was asked');
    expect(step.tuning.lines).not.toEqual({ dtr: true, rts: true });
    expect(step.silentOtherwise).toBe(false);
    await search.close();
  });
});

describe('taptrue find prints it', () => {
  async function printed(lead: Lead, sends: 'by itself' | 'at its key') {
    const clock = new OneClock();
    const { openSerial } = portWith(lead, sends, clock);
    const out: string[] = [];
    let code: number | null = null;
    void find(
      {
        source: { kind: 'serial', path: PATH, settings: null },
        shapes: SHAPES,
        ask: false,
        waitForKeyMs: 0,
        json: false,
      },
      { out: (text) => out.push(text), err: (text) => out.push(text) },
      { clock, openSerial },
    ).then((exit) => {
      code = exit;
    });
    await passUntil(clock, 200_000, () => code !== null);
    return { code, text: out.join('\n') };
  }

  it.each(SILENT)('lead "%s": %s', async (name, _code, says, never) => {
    const { code, text } = await printed(LEADS[name], 'at its key');
    expect(code).toBe(1);
    const last = text.slice(text.search(/Nothing (at all )?came/));
    expect(last).toMatch(says);
    expect(last.split('\n')[0]).not.toMatch(never);
  });

  it('that the lead is silent otherwise, and that the lines are kept so', async () => {
    const { code, text } = await printed(LEADS.fedAllWires, 'by itself');
    expect(code).toBe(0);
    expect(text).toMatch(
      /control lines +It sends with DTR up, RTS down and is silent with both up/,
    );
    expect(text).toContain('They are kept so.');
    expect(text).toMatch(/taptrue listen .* --dtr up --rts down$/);
  });
});

describe('the state that every page is sent says it', () => {
  async function told(lead: Lead, sends: 'by itself' | 'at its key', until: FindSection['state']) {
    const clock = new OneClock();
    const { openSerial } = portWith(lead, sends, clock);
    let last: FindSection | null = null;
    const connected: unknown[] = [];
    const room = new FindController({
      clock,
      shapes: () => SHAPES,
      simulatedPipes: null,
      openSerial,
      tell: (section) => {
        last = section;
      },
      usedBy: () => null,
      samePlace: () => false,
      connect: async (_link, config) => {
        connected.push(config);
        return { ok: true, note: '' };
      },
      disconnect: async () => ({ ok: true, note: '' }),
      keepShape: async () => ({ ok: true, note: '' }),
    });
    const section = () => last as FindSection | null;
    const source = { kind: 'serial', path: PATH, settings: null } as const;
    await room.command({ kind: 'begin find', link: 'indicator', source, closeFirst: false });
    await passUntil(clock, 400_000, () => section()?.state === until);
    return { room, clock, section, connected };
  }

  it.each(SILENT)('lead "%s": %s', async (name, code, says) => {
    const { room, section } = await told(LEADS[name], 'at its key', 'nothing found');
    expect(section()).toMatchObject({ state: 'nothing found', fault: { code } });
    expect(section()?.sentence).toMatch(says);
    await room.close();
  });

  it('with the question, and again once it is connected', async () => {
    const { room, section, connected } = await told(LEADS.fedAllWires, 'by itself', 'question');
    expect(section()?.question?.lead).toMatch(/^It sends with DTR up, RTS down and is silent/);
    await room.command({ kind: 'answer find', answer: 'yes' });
    expect(section()).toMatchObject({ state: 'connected' });
    expect(section()?.sentence).toMatch(/DTR up, RTS down.*They are kept so\.$/);
    expect(connected).toMatchObject([{ source: { lines: { dtr: true, rts: false } } }]);
    await room.close();
  });
});
