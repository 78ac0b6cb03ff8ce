import { makeFrameCutter } from '@taptrue/server/shapes/cut-frames.ts';
import { decodeFrame } from '@taptrue/server/shapes/decode-frame.ts';
import { SHAPES } from '@taptrue/server/shapes/shape-table.ts';
import { canSay, speak } from '@taptrue/simulators/speak.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

const STATUSES = ['hold', 'over range', 'low battery', 'peak mode', 'error'] as const;

describe.each(SHAPES.map((shape) => [shape.name, shape] as const))('%s', (_, shape) => {
  function heard(bytes: Uint8Array) {
    const cuts = makeFrameCutter(shape.framing, 'between frames').feed(bytes);
    expect(cuts.map((cut) => cut.kind)).toEqual(['frame']);
    const [cut] = cuts;
    if (cut?.kind !== 'frame') throw new Error('not a frame');
    return decodeFrame(cut.body, shape);
  }

  test('what it speaks is decoded to the same number, in the same unit, terse or not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -99_999, max: 99_999 }),
        fc.integer({ min: 1, max: 4 }),
        fc.constantFrom('in' as const, 'mm' as const),
        fc.boolean(),
        (count, decimals, unit, terse) => {
          const value = count / 10 ** decimals;
          const said = { value, unit, decimals, status: 'ok', channel: null, counter: 3 } as const;
          const spoken = speak(shape, { ...said, terse });
          if (!spoken.ok) throw new Error(spoken.why);
          const decoded = heard(spoken.bytes);
          if (decoded.kind !== 'reading') throw new Error(decoded.why);
          // A shape with an implied point shows what its decimals allow; every other shows all of it.
          const shown = Number(value.toFixed(decoded.decimals));
          expect(decoded.value).toBe(shown === 0 ? 0 : shown);
          if (decoded.decimals < decimals) {
            expect(JSON.stringify(shape.fields)).toContain('"implied"');
          }
          if (decoded.unit !== null) expect(decoded.unit).toBe(unit);
          expect(decoded.status).toBe('ok');
        },
      ),
    );
  });

  test('every status it has a word for comes out as that status, and never as a number to measure with', () => {
    for (const status of STATUSES.filter((one) => canSay(shape, one))) {
      const said = { value: null, unit: 'in', decimals: 4, channel: null, counter: 3 } as const;
      const spoken = speak(shape, { ...said, status, terse: false });
      if (!spoken.ok) throw new Error(spoken.why);
      expect(heard(spoken.bytes)).toMatchObject({ kind: 'reading', status });
    }
  });
});
