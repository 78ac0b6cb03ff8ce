import type { LineShape } from '@taptrue/protocol';
import {
  BAUD_RATES,
  FRAMINGS,
  TRIED_WITHOUT_SETTINGS,
} from '@taptrue/server/devices/finding/settings-tried.ts';
import { textHeard } from '@taptrue/server/devices/finding/text-heard.ts';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { WiredDevice } from '@taptrue/simulators/wired-device.ts';
import { describe, expect, it } from 'vitest';
import { passUntil, searchOn } from './found-device.ts';
import { OneClock } from './one-clock.ts';
import { PlaysSamples } from './plays-samples.ts';

const LINES = ['<2|-0.0125|RUN|a>', '<2|+0.0118|RUN|a>', '<2|+0.1103|STP|a>'];

/** Lines of a shape that ships nowhere; only its samples are played, no search knows it. */
const SHIPS_NOWHERE: LineShape = {
  ...shapeNamed('signed-decimal')!,
  samples: LINES.map((line) => ({
    frame: `${line}\r\n`,
    value: 1,
    unit: null,
    status: 'ok',
    channel: null,
  })),
};

const SETTINGS = BAUD_RATES.flatMap((baudRate) =>
  FRAMINGS.map((framing) => ({ baudRate, ...framing })),
);

describe('a device whose lines no shape reads', () => {
  it.each(SETTINGS)(
    'is told with its lines and its own settings: $baudRate, $dataBits bits, parity $parity',
    async (settings) => {
      const clock = new OneClock();
      const wired = new WiredDevice({
        device: new PlaysSamples(SHIPS_NOWHERE, clock, 10),
        settings,
        clock,
      });
      const { find, tookMs } = searchOn({
        clock,
        consent: 'not asked yet',
        waitForKeyMs: 120_000,
        pipeFor: (tuning, heardWith) => wired.pipe(heardWith, tuning.lines),
      });
      await passUntil(clock, 200_000, () => find.now.ending !== null);
      const { ending } = find.now;
      // Nobody waits two minutes more for a key to hear that lines came in the first seconds.
      expect(tookMs()).toBeLessThan(60_000);
      await find.close();
      if (ending?.kind !== 'nothing') throw new Error(`ended with ${ending?.kind}`);
      expect(ending.fault.code).toBe('find-shape-not-known');
      expect(ending.unread?.form).toBe('lines');
      expect(ending.unread?.tuning.settings).toEqual(settings);
      const captured = Buffer.from(ending.unread!.bytes).toString('latin1');
      const whole = captured.split('\r\n').slice(1, -1);
      expect(whole.length).toBeGreaterThanOrEqual(2);
      for (const line of whole) expect(LINES).toContain(line);
      expect(captured.length).toBeLessThanOrEqual(4096);
    },
  );

  it('behind a socket is handed over as bytes where it sends no lines', async () => {
    const clock = new OneClock();
    const frame = Buffer.from('A5123400F7', 'hex').toString('latin1');
    const packed: LineShape = {
      ...SHIPS_NOWHERE,
      samples: [{ ...SHIPS_NOWHERE.samples[0]!, frame }],
    };
    const device = new PlaysSamples(packed, clock, 10);
    const { find } = searchOn({
      clock,
      tried: TRIED_WITHOUT_SETTINGS,
      pipeFor: () => ({
        attach: (onBytes) => device.attach(onBytes),
        detach: () => undefined,
        send: () => undefined,
      }),
    });
    await passUntil(clock, 100_000, () => find.now.ending !== null);
    const { ending } = find.now;
    await find.close();
    if (ending?.kind !== 'nothing') throw new Error(`ended with ${ending?.kind}`);
    expect(ending.unread?.form).toBe('bytes');
    expect(Buffer.from(ending.unread!.bytes).toString('latin1')).toContain(frame);
  });

  it('that is silent has nothing to teach', async () => {
    const clock = new OneClock();
    const { find } = searchOn({
      clock,
      pipeFor: () => ({ attach: () => {}, detach: () => {}, send: () => {} }),
    });
    await passUntil(clock, 400_000, () => find.now.ending !== null);
    expect(find.now.ending).toMatchObject({ kind: 'nothing', unread: null });
    await find.close();
  });
});

describe('whole lines of text', () => {
  it.each([
    ['nothing', '', null],
    ['one line, of which the beginning may be missing', '12\r\n', null],
    ['no line end', '1234567890123', null],
    ['noise', '\x91\x07\xfe\x00\x13\r\n\x91\xfe\x88\r\n\x80\x81', null],
    ['line feeds', '12\n34\n5', ['34\\n']],
    ['carriage returns', '12\r34\r5', ['34\\r']],
    ['both', '12\r\n34\r\n5', ['34\\r\\n']],
  ])('%s', (_what, text, lines) => {
    expect(
      textHeard(Buffer.from(text, 'latin1'))?.lines.map((line) => line.toLowerCase()) ?? null,
    ).toEqual(lines);
  });
});
