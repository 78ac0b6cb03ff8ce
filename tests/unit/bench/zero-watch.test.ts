import { ZeroWatch } from '@taptrue/server/bench/zero-watch.ts';
import { expect, test } from 'vitest';

/** Number of zeroings seen in a row of readings, in digits of 0.001 mm. */
function zeroings(digits: number[]): number {
  const watch = new ZeroWatch();
  return digits.filter((count) => watch.push(count * 0.001, 0.001)).length;
}

test.each([
  ['a jump to zero that stays', [150, 150, 0, 0, 0, 0], 1],
  ['a jump to zero that trembles about it', [-150, 0, 1, -2, 1], 1],
  ['two zeroings', [150, 0, 0, 0, 0, 90, 90, 0, 0, 0, 0], 2],
  ['a needle that passes zero in a fast sweep', [150, 0, -150, -300, -450], 0],
  ['a needle that rests at zero', [0, 0, 0, 0, 0], 0],
  ['a needle that comes to zero in small steps', [40, 20, 0, 0, 0, 0], 0],
  ['a jump to zero that trembles from the first', [150, 2, 1, -1, 0], 1],
  ['a display that counts by five of its digits', [150, 155, 150, 10, -5, 0, 5], 1],
  ['the same, with a tap that lands beside zero', [150, 155, 150, 20, 20, 25, 20], 0],
  ['a tap that lands beside zero', [150, 4, 4, 4, 4], 0],
  ['the first reading, being zero', [0], 0],
  ['a jump that is not yet known to stay', [150, 0, 0], 0],
])('%s: %j is %i zeroings', (_case, digits, count) => {
  expect(zeroings(digits)).toBe(count);
});
