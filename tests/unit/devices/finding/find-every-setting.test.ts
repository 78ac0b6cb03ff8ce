import type { LineShape } from '@taptrue/protocol';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';
import { LINES_TRIED, lookFor, rateAt, settingsFor, wrongIn } from './stranger.ts';

/** The promise: a stream of ten a second and more. */
const QUICK_WITHIN_MS = 15_000;
/** All others, or their key is asked for by then. */
const WITHIN_MS = 60_000;

const sentBy = (trigger: LineShape['trigger']) =>
  SHAPES.filter((shape) => shape.trigger === trigger).map((shape) => [shape.name, shape] as const);

/** Which levels a device at the n-th setting wants: each setting is met with one of the three, the benchmark has all. */
const linesFor = (index: number) => LINES_TRIED[index % LINES_TRIED.length]!;

describe('a device of unknown shape, speed, parity and control lines', () => {
  it.each(sentBy('streams'))('%s, streamed: found at every setting', async (_name, shape) => {
    const wrong: string[] = [];
    for (const [index, settings] of settingsFor(shape).entries()) {
      const readingsPerSecond = rateAt(settings.baudRate, 10, shape);
      const there = { shape, settings, lines: linesFor(index), readingsPerSecond };
      const withinMs = readingsPerSecond >= 10 ? QUICK_WITHIN_MS : WITHIN_MS;
      wrong.push(wrongIn(await lookFor(there), there, withinMs));
    }
    expect(wrong.filter(Boolean)).toEqual([]);
  });

  it.each(sentBy('asked'))('%s, asked: found at every setting', async (_name, shape) => {
    const wrong: string[] = [];
    for (const [index, settings] of settingsFor(shape).entries()) {
      const there = { shape, settings, lines: linesFor(index), consent: 'given' as const };
      wrong.push(wrongIn(await lookFor(there), there, WITHIN_MS));
    }
    expect(wrong.filter(Boolean)).toEqual([]);
  });

  it.each(sentBy('its own key'))('%s: its key is asked for, then found', async (_name, shape) => {
    const wrong: string[] = [];
    for (const [index, settings] of settingsFor(shape).entries()) {
      const there = { shape, settings, lines: linesFor(index), pressesEveryMs: 1700 };
      const outcome = await lookFor(there);
      if ((outcome.keyAskedMs ?? Number.POSITIVE_INFINITY) > WITHIN_MS) wrong.push('key not asked');
      wrong.push(wrongIn(outcome, there, 200_000));
    }
    expect(wrong.filter(Boolean)).toEqual([]);
  });

  it.each([1100, 1700, 2300, 3100])(
    'one press each %i ms, the first cut by the opening of a port',
    async (pressesEveryMs) => {
      const shape = SHAPES.find(({ name }) => name === 'printed-axis')!;
      const settings = { baudRate: 9600, dataBits: 7, parity: 'odd', stopBits: 1 } as const;
      const there = { shape, settings, lines: { dtr: true, rts: false }, pressesEveryMs };
      expect(wrongIn(await lookFor(there), there, 200_000)).toBe('');
    },
  );

  it.each(sentBy('streams'))(
    '%s, one line a second: found within a minute',
    async (_name, shape) => {
      const wrong: string[] = [];
      for (const [index, settings] of settingsFor(shape).entries()) {
        if (index % 3 !== 0) continue;
        const there = { shape, settings, lines: linesFor(index / 3), readingsPerSecond: 1 };
        wrong.push(wrongIn(await lookFor(there), there, WITHIN_MS));
      }
      expect(wrong.filter(Boolean)).toEqual([]);
    },
  );
});
