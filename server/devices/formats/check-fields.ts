import type { LineShape, ShapeField } from '@taptrue/protocol';
import type { ShapeFinding } from './shape-finding.ts';

type Placed = { field: ShapeField; place: string };

/** Kinds of which one reading may say only one thing. */
const ONCE: readonly ShapeField['kind'][][] = [
  ['sign'],
  ['unit', 'unit is'],
  ['status'],
  ['channel', 'channel is'],
  ['point'],
];

/** Whether the fields belong together: one number to each axis, a point for it, nothing said twice. */
export function checkFields(shape: LineShape): ShapeFinding[] {
  const placed = shape.fields.map((field, index) => ({ field, place: `fields[${index}]` }));
  const axes = perAxis(placed);
  const found = axes.flatMap((axis) => checkAxis(axis, axes.length > 1));
  for (const { field, place } of placed) {
    const say = (why: string) => found.push({ place, why: `${place}${why}`, got: '' });
    if ((field.kind === 'counter' || field.kind === 'digits') && field.atLeast > field.atMost) {
      say('.atLeast is above its atMost');
    }
    if ('map' in field && Object.keys(field.map).length === 0) say('.map is empty');
    if (field.kind === 'digits' && field.lowestFirst && field.point.kind === 'written') {
      say(': the last place first goes with an implied point only');
    }
    if (field.kind === 'count' && field.hexDigits % 2 === 1) say('.hexDigits must be even');
    if (field.kind === 'flags') {
      const bits = field.bits.map(({ bit }) => bit);
      if (new Set(bits).size < bits.length) say('.bits names a bit twice');
      if (Math.max(...bits) >= 4 * field.hexDigits) say('.bits names a bit that is not there');
    }
  }
  if (shape.trigger === 'asked' && shape.request === null) {
    found.push({
      place: 'request',
      why: 'request is missing, and the device sends only when asked',
      got: '',
    });
  }
  return found;
}

function perAxis(placed: readonly Placed[]): Placed[][] {
  const axes: Placed[][] = [[]];
  for (const one of placed) {
    if (one.field.kind === 'next axis') axes.push([]);
    else axes.at(-1)!.push(one);
  }
  return axes;
}

function checkAxis(axis: readonly Placed[], amongOthers: boolean): ShapeFinding[] {
  const of = (...kinds: ShapeField['kind'][]) =>
    axis.filter(({ field }) => kinds.includes(field.kind));
  const found: ShapeFinding[] = [];
  const say = (why: string, place = axis[0]?.place ?? 'fields') =>
    found.push({ place, why, got: '' });
  const each = amongOthers ? ' for each axis' : '';
  const numbers = of('digits', 'count');
  if (numbers.length !== 1) say(`fields must hold digits exactly once${each}`);
  for (const kinds of ONCE) {
    const several = of(...kinds);
    if (several.length > 1) {
      say(`fields must hold ${kinds[0]} at most once${each}`, several[1]!.place);
    }
  }
  if (amongOthers && of('channel', 'channel is').length === 0) {
    say('every axis of a frame with several needs a channel or "channel is"');
  }
  const [number] = numbers;
  const points = of('point').length;
  if (number?.field.kind === 'digits') {
    const { kind } = number.field.point;
    if ((kind === 'given by point field') !== (points === 1)) {
      say(`${number.place}.point and the point field must come together`, number.place);
    }
  } else if (points > 0) {
    say('a point field goes with digits only', of('point')[0]!.place);
  }
  return found;
}
