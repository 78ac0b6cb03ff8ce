import type { LineShape } from '@taptrue/protocol';
import { makeShapeCutter } from '@taptrue/server/devices/formats/cut-frames.ts';
import { decodeFrame } from '@taptrue/server/devices/formats/decode-frame.ts';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { canSay, speak } from '@taptrue/simulators/speak.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

function countsOnlyIn(shape: LineShape): string | null {
  const count = shape.fields.find((field) => field.kind === 'count');
  const units = count?.kind === 'count' ? Object.keys(count.perUnit) : [];
  return units.length === 1 ? units[0]! : null;
}

function hasHalves(shape: LineShape): boolean {
  return JSON.stringify(shape.fields).includes('half digit');
}

/** Farthest that a shape in steps of its own may be off; null: it shows the digits themselves. */
function nearestOf(shape: LineShape, unit: string, decimals: number): number | null {
  if (shape.fields.some((field) => field.kind === 'count')) return 0.5 * 10 ** -decimals;
  return hasHalves(shape) && unit === 'in' ? 2.5 * 10 ** -decimals : null;
}

const STATUSES = ['hold', 'over range', 'low battery', 'peak mode', 'error'] as const;

describe.each(SHAPES.map((shape) => [shape.name, shape] as const))('%s', (_, shape) => {
  function heard(bytes: Uint8Array) {
    const cuts = makeShapeCutter(shape, 'between frames').feed(bytes);
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
          const only = countsOnlyIn(shape);
          if (!spoken.ok && only !== null && only !== unit) return;
          // Six digits do not show 1000 with three decimals.
          if (!spoken.ok && spoken.why.includes('digits, the shape has 6')) return;
          if (!spoken.ok) throw new Error(spoken.why);
          const decoded = heard(spoken.bytes);
          if (decoded.kind !== 'reading') throw new Error(decoded.why);
          // A shape with an implied point shows what its decimals allow; every other shows all of it.
          const near = nearestOf(shape, unit, decoded.decimals);
          if (near !== null) {
            // Halves of a count may be rounded either way.
            const off = Math.abs((decoded.value ?? Number.NaN) - value);
            expect(off).toBeLessThanOrEqual(near + 1e-9);
          } else {
            const shown = Number(value.toFixed(decoded.decimals));
            expect(decoded.value).toBe(shown === 0 ? 0 : shown);
          }
          if (decoded.decimals < decimals) {
            expect(JSON.stringify(shape.fields)).toMatch(/"implied"|"given by unit"|"count"/);
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
