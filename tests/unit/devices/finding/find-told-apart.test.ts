import type { LineShape, PortSettings } from '@taptrue/protocol';
import { HARMLESS_REQUESTS } from '@taptrue/server/devices/finding/requests-tried.ts';
import { TRIED_WITHOUT_SETTINGS } from '@taptrue/server/devices/finding/settings-tried.ts';
import { SHAPES, shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import type { MemoryPipe } from '@taptrue/server/devices/transport/transport.ts';
import { SerialWire } from '@taptrue/simulators/serial-wire.ts';
import { WiredDevice } from '@taptrue/simulators/wired-device.ts';
import { Receiver } from '@taptrue/simulators/wrong-settings.ts';
import { describe, expect, it } from 'vitest';
import { passUntil, type SearchSetup, searchOn } from './found-device.ts';
import { OneClock } from './one-clock.ts';
import { PlaysSamples } from './plays-samples.ts';
import { lookFor } from './stranger.ts';

const USUAL: PortSettings = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 };

/** A port on which this happens: bytes now and then, an answer to what is sent. */
function pipeOf(
  clock: OneClock,
  does: { everyMs?: number; sends?: () => string; answers?: (sent: string) => string },
): MemoryPipe {
  let stop = (): void => undefined;
  let give = (_bytes: Uint8Array): void => undefined;
  return {
    attach(onBytes) {
      give = onBytes;
      const { everyMs, sends } = does;
      if (everyMs !== undefined && sends) {
        stop = clock.every(everyMs, () => onBytes(Buffer.from(sends(), 'latin1')));
      }
    },
    detach: () => stop(),
    send(bytes) {
      const answer = does.answers?.(Buffer.from(bytes).toString('latin1'));
      if (answer) give(Buffer.from(answer, 'latin1'));
    },
  };
}

async function faultOf(setup: Omit<SearchSetup, 'clock'> & { clock: OneClock }) {
  const { find, tookMs } = searchOn(setup);
  await passUntil(setup.clock, 400_000, () => find.now.ending !== null);
  const { ending } = find.now;
  await find.close();
  if (ending?.kind !== 'nothing') throw new Error(`ended with ${ending?.kind}`);
  for (const part of [ending.fault.what, ending.fault.remedy]) expect(part).not.toBe('');
  return { code: ending.fault.code, fault: ending.fault, tookMs: tookMs() };
}

describe('what is wrong is told apart', () => {
  it('silence, and that it was neither asked nor its key waited for', async () => {
    const clock = new OneClock();
    const { code, fault, tookMs } = await faultOf({ clock, pipeFor: () => pipeOf(clock, {}) });
    expect(code).toBe('find-nothing-came');
    expect(fault.remedy).toMatch(/asked.*key/);
    expect(tookMs).toBeLessThan(60_000);
  });

  it('a socket that takes the connection and says nothing', async () => {
    const clock = new OneClock();
    const { code, tookMs } = await faultOf({
      clock,
      tried: TRIED_WITHOUT_SETTINGS,
      consent: 'given',
      pipeFor: () => pipeOf(clock, {}),
    });
    expect(code).toBe('find-socket-silent');
    expect(tookMs).toBeLessThan(60_000);
  });

  it('a lead that sends back what it is sent', async () => {
    const clock = new OneClock();
    const echoes = () => pipeOf(clock, { answers: (sent) => sent });
    expect((await faultOf({ clock, consent: 'given', pipeFor: echoes })).code).toBe('find-echo');
  });

  it('whole lines that no shape reads, with the lines to teach from', async () => {
    const clock = new OneClock();
    const sends = () => 'SIZE small, 4 of 7\r\n';
    const pipeFor = () => pipeOf(clock, { everyMs: 100, sends });
    const { code, fault } = await faultOf({ clock, pipeFor });
    expect(code).toBe('find-shape-not-known');
    expect(fault.got).toContain('SIZE small, 4 of 7');
  });

  it('digits with characters missing between them, whatever the parity', async () => {
    const clock = new OneClock();
    const sends = () => '+00.1\xff-3\xff7';
    const { code, fault } = await faultOf({
      clock,
      pipeFor: ({ settings }) =>
        pipeOf(clock, {
          everyMs: 100,
          sends: () => (settings?.baudRate === 4800 ? sends() : '\xff\x80'),
        }),
    });
    expect(code).toBe('find-wrong-parity');
    expect(fault.what).toContain('4800 baud');
  });

  it('more than any device sends, before a second is over and with the page unharmed', async () => {
    const clock = new OneClock();
    const sends = () => 'A'.repeat(40_000);
    const pipeFor = () => pipeOf(clock, { everyMs: 4, sends });
    const { code, tookMs } = await faultOf({ clock, pipeFor });
    expect(code).toBe('find-too-much');
    expect(tookMs).toBeLessThan(1000);
  });

  it('a line that never ends', async () => {
    const clock = new OneClock();
    const pipeFor = () => pipeOf(clock, { everyMs: 4, sends: () => '0123' });
    const { code, tookMs } = await faultOf({ clock, pipeFor });
    expect(code).toMatch(/^find-/);
    expect(tookMs).toBeLessThan(90_000);
  });

  it('a port that is pulled out', async () => {
    const clock = new OneClock();
    const pipeFor = (): MemoryPipe => ({
      attach: (_onBytes, onGone) => void clock.setTimeout(onGone, 700),
      detach: () => undefined,
      send: () => undefined,
    });
    expect((await faultOf({ clock, pipeFor })).code).toBe('port-gone');
  });
});

describe('nothing is sent until that is allowed', () => {
  it('and then nothing but single characters and line ends', async () => {
    const clock = new OneClock();
    const sent: string[] = [];
    const answers = (text: string) => {
      sent.push(text);
      return '';
    };
    const pipeFor = () => pipeOf(clock, { answers });
    const { find } = searchOn({ clock, pipeFor, consent: 'not asked yet', waitForKeyMs: 60_000 });
    await passUntil(clock, 20_000, () => find.now.consent === 'wanted');
    await passUntil(clock, 20_000, () => false);
    expect(sent).toEqual([]);
    find.consent(true);
    await passUntil(clock, 80_000, () => find.now.ending !== null);
    expect(sent.length).toBeGreaterThan(100);
    for (const text of sent) {
      const plain = Buffer.from(text, 'latin1').map((byte) => byte & 0x7f);
      expect(Buffer.from(plain).toString('latin1')).toMatch(/^[?A-Z1-4]?(\r\n)?$/);
    }
    await find.close();
  });

  it('the harmless requests are one character each, ended as a line', () => {
    for (const request of HARMLESS_REQUESTS) expect(request).toMatch(/^[?A-Z0-9]?\r\n$/);
  });
});

describe('a bridge that starts anew whenever DTR rises', () => {
  it.each([9600, 115200])('is found all the same, at %i baud', async (baudRate) => {
    const clock = new OneClock();
    const shape = shapeNamed('signed-decimal')!;
    let wasUp = false;
    let upSinceMs = 0;
    const wired = new WiredDevice({
      device: new PlaysSamples(shape, clock, 10),
      settings: { ...USUAL, baudRate },
      clock,
      wakes: ({ dtr }) => {
        if (dtr && !wasUp) upSinceMs = clock.now();
        wasUp = dtr;
        return dtr && clock.now() - upSinceMs > 1900;
      },
    });
    const { find, tookMs } = searchOn({
      clock,
      pipeFor: (tuning, heardWith) => wired.pipe(heardWith, tuning.lines),
    });
    await passUntil(clock, 60_000, () => find.now.step?.kind === 'question');
    expect(find.now.step).toMatchObject({ kind: 'question', tuning: { settings: { baudRate } } });
    expect(tookMs()).toBeLessThan(60_000);
    await find.close();
  });
});

describe('drivers hand over bytes with a wrong parity or stop bit in three ways', () => {
  const shape = shapeNamed('signed-decimal')!;
  const settings: PortSettings = { ...USUAL, parity: 'odd' };
  it.each(['dropped', 'kept', 'as nul'] as const)(
    '%s: read rightly all the same',
    async (errors) => {
      const outcome = await lookFor({ shape, settings, errors });
      expect(outcome.foundMs).toBeLessThan(15_000);
      // Where they are kept, the usual setting hears such a device as well as its own.
      if (errors !== 'kept') expect(outcome.settings).toEqual(settings);
    },
  );

  it('an answer behind its own echo is an answer', async () => {
    const asked = shapeNamed('bare-number-asked')!;
    const outcome = await lookFor({
      shape: asked,
      settings: USUAL,
      consent: 'given',
      echoes: true,
    });
    expect(outcome.candidate?.shape.name).toBe('bare-number-asked');
  });
});

describe('the most specific shape that reads every line wins', () => {
  const specific: LineShape = {
    ...shapeNamed('signed-decimal')!,
    name: 'shop-own',
    title: 'The shop’s own: always a sign, three digits, four decimals',
    fields: [
      { kind: 'sign', map: { '+': 1, '-': -1 } },
      { kind: 'digits', atLeast: 7, atMost: 7, point: { kind: 'written', mark: '.' } },
    ],
    specials: [],
    samples: ['+000.1234', '-000.0021', '+000.0000'].map((text) => ({
      frame: `${text}\r\n`,
      value: Number(text) + 0,
      unit: null,
      status: 'ok',
      channel: null,
    })),
  };

  it('the shop’s own before the general one that also reads it', async () => {
    const clock = new OneClock();
    const device = new PlaysSamples(specific, clock, 10);
    const wired = new WiredDevice({ device, settings: USUAL, clock });
    const { find } = searchOn({
      clock,
      shapes: [...SHAPES, specific],
      pipeFor: (tuning, heardWith) => wired.pipe(heardWith, tuning.lines),
    });
    await passUntil(clock, 15_000, () => find.now.step?.kind === 'question');
    const { step } = find.now;
    expect(step?.kind === 'question' && step.candidate.shape.name).toBe('shop-own');
    await find.close();
  });
});

describe('a receiver at the sender’s own setting', () => {
  it('hears every byte as it was sent, whatever the setting and the number of stop bits', () => {
    const every = Uint8Array.from({ length: 256 }, (_, byte) => byte);
    for (const parity of ['none', 'even', 'odd'] as const) {
      for (const stopBits of [1, 2] as const) {
        const wire = new SerialWire({ ...USUAL, parity, stopBits });
        const receiver = new Receiver(wire, { ...USUAL, parity }, 'dropped', 0);
        wire.send(every, 1);
        expect(receiver.heardBy(10_000)).toEqual(every);
      }
    }
  });

  it('takes ten bits a byte: 960 bytes of 9600 8N1 in a second, not sooner', () => {
    const wire = new SerialWire(USUAL);
    const receiver = new Receiver(wire, USUAL, 'dropped', 0);
    wire.send(new Uint8Array(960).fill(0x55), 1);
    expect(receiver.heardBy(501).length).toBe(480);
    expect(receiver.heardBy(1001).length).toBe(480);
  });

  it('hears seven bits and even parity with eight as the characters and their parity bit', () => {
    const wire = new SerialWire({ ...USUAL, dataBits: 7, parity: 'even' });
    const receiver = new Receiver(wire, USUAL, 'dropped', 0);
    // 0 is 0110000, two ones; 1 is 0110001, three: its parity bit is up.
    wire.send(Buffer.from('01'), 1);
    expect([...receiver.heardBy(100)]).toEqual([0x30, 0xb1]);
  });
});
