import type { LinkConfig, Reading } from '@taptrue/protocol';
import { configOf } from '@taptrue/server/devices/finding/find-on.ts';
import { numberText, unitOf } from '@taptrue/server/devices/finding/find-words.ts';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { LineSource } from '@taptrue/server/devices/transport/line-source.ts';
import { MemoryTransport } from '@taptrue/server/devices/transport/memory.ts';
import { Dice } from '@taptrue/simulators/random.ts';
import { speak } from '@taptrue/simulators/speak.ts';
import { describe, expect, it } from 'vitest';
import { measureOf, passUntil, searchOn, wiredDevice } from './found-device.ts';
import { OneClock } from './one-clock.ts';
import { LINES_TRIED, settingsFor } from './stranger.ts';

/** The promise: a stranger, a device of unknown shape, speed and parity, no setting typed. */
const WITHIN_MS = 60_000;
const STRANGERS = 24;

/** Those that the simulator can say millimetres in; the others are played from their samples elsewhere. */
const SPOKEN = SHAPES.filter(({ trigger }) => trigger === 'streams').filter(
  (shape) =>
    speak(shape, {
      value: 0.125,
      unit: 'mm',
      decimals: 3,
      status: 'ok',
      channel: null,
      counter: 1,
      terse: false,
    }).ok,
);

function drawn(seed: number) {
  const dice = new Dice(seed);
  const shape = SPOKEN[dice.below(SPOKEN.length)]!;
  const all = settingsFor(shape).filter(({ baudRate }) => baudRate >= 4800);
  return {
    shape,
    settings: all[dice.below(all.length)]!,
    lines: LINES_TRIED[dice.below(LINES_TRIED.length)]!,
  };
}

it('has many shapes to draw from', () => {
  expect(SPOKEN.length).toBeGreaterThan(10);
});

describe('a stranger with a device of unknown shape, speed and parity', () => {
  it.each(Array.from({ length: STRANGERS }, (_, index) => index + 1))(
    'has live, correct readings within a minute, no setting typed (draw %i)',
    async (seed) => {
      const { shape, settings, lines } = drawn(seed);
      const clock = new OneClock();
      const { wired } = wiredDevice(
        {
          shape,
          settings,
          readingsPerSecond: 10,
          unit: 'mm',
          decimals: 3,
          seed,
          wakes: (given) => given.dtr === lines.dtr && given.rts === lines.rts,
        },
        clock,
      );
      const { find, tookMs } = searchOn({
        clock,
        pipeFor: (tuning, heardWith) => wired.pipe(heardWith, tuning.lines),
      });
      const config = await answeredByLooking();
      expect(config, `${shape.name} ${JSON.stringify(settings)}`).not.toBeNull();
      const readings: Reading[] = [];
      const link = connected(config!, (reading) => readings.push(reading));
      await passUntil(clock, 5000, () => readings.length >= 5);
      expect(link.report().state).toBe('live');
      expect(tookMs()).toBeLessThan(WITHIN_MS);
      for (const { atMs, value, unit } of readings.slice(1)) {
        expect(unit).toBe('mm');
        // As the device measured it within the tenth of a second before, half a last place aside.
        const around = [0, 50, 100, 150].map((agoMs) => measureOf(atMs - agoMs));
        expect(value).toBeGreaterThan(Math.min(...around) - 0.011);
        expect(value).toBeLessThan(Math.max(...around) + 0.011);
      }
      await link.close();

      /** Yes where the screen shows the same number and millimetres; the screen moves a little. */
      async function answeredByLooking(): Promise<LinkConfig | null> {
        for (;;) {
          const asks = () => find.now.step?.kind === 'question';
          await passUntil(clock, WITHIN_MS, () => asks() || find.now.ending !== null);
          const { step, sample } = find.now;
          if (step?.kind !== 'question' || sample === null) return null;
          const shown = Number(numberText(sample));
          const same =
            Math.abs(shown - measureOf(clock.now())) < 0.02 &&
            unitOf(step.candidate.unit, sample) === 'mm';
          find.answer(same);
          if (!same) continue;
          await find.close();
          return configOf(
            { kind: 'serial', path: 'the test port', settings: null },
            step.candidate,
            step.tuning,
          );
        }
      }

      function connected(found: LinkConfig, onReading: (reading: Reading) => void): Link {
        const { source } = found;
        if (source.kind !== 'serial' || source.settings === null) throw new Error('not set');
        const port = source.settings;
        const read = SHAPES.find(({ name }) => name === found.shape)!;
        const link = new Link({
          name: 'indicator',
          config: found,
          clock,
          source: new LineSource({
            name: 'indicator',
            config: found,
            shape: read,
            clock,
            maker: () =>
              new MemoryTransport({
                title: 'the test port',
                pipe: wired.pipe(port, source.lines ?? read.signals),
                now: () => clock.now(),
              }),
          }),
          onReading,
          onSecond: () => undefined,
          onReport: () => undefined,
        });
        link.open();
        return link;
      }
    },
  );
});
