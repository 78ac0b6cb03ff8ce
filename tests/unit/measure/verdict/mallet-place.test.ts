import { malletPlace } from '@taptrue/server/measure/verdict/mallet-place.ts';
import { expect, test } from 'vitest';

const VISE = { chosenMm: 147, otherMm: -20, sweptMm: 127 };
const NO = { chosen: false, other: false };

test.each([
  // A quarter of 127 is 31.75.
  ['the pivot at the far clamp', -8, NO, 'chosen'],
  ['the pivot just beyond a quarter', 147 - 31.8, NO, 'chosen'],
  ['the pivot just within a quarter', 147 - 31.7, NO, 'other'],
  ['blows that turned nothing, whatever was said', -8, { chosen: true, other: false }, 'other'],
  ['blows that turned nothing at either end', -8, { chosen: true, other: true }, 'neither'],
] as const)('%s', (_case, pivotMm, hardlyTurns, place) => {
  expect(malletPlace({ ...VISE, pivotMm: { chosen: pivotMm, other: pivotMm }, hardlyTurns })).toBe(
    place,
  );
});

test('a pivot near both places of the mallet: neither end turns it', () => {
  const question = { chosenMm: 40, otherMm: 10, sweptMm: 127, hardlyTurns: NO };
  expect(malletPlace({ ...question, pivotMm: { chosen: 25, other: 25 } })).toBe('neither');
});
