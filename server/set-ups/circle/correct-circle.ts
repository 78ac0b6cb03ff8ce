import { formatLength, type LengthUnit, type Rises } from '@taptrue/protocol';
import type { CirclePart, CircleSetUp, Correction } from '../set-up.ts';
import { cosDeg, sinDeg } from './fit-circle.ts';

/** What is known of how the readings were taken. */
export interface CircleSense {
  /** Toward: the reading rises as the surface comes toward the indicator, which is what pressing does. */
  rises: Rises;
  /** The wall that was touched; null: a face along the axis, or not said. */
  face: 'bore' | 'boss' | null;
  /**
   * spindle: the angle is the place on the work under the stylus. work: the indicator stands still at 0
   * and the angle is how far the work was turned, so the places pass it the other way round.
   */
  turns: 'spindle' | 'work';
  jawOneDeg: number;
}

export interface CorrectionPart extends Correction {
  name: string;
  /** Toward the plus way of this part, mm. */
  signedMm: number;
}

/**
 * What must move, whole and in its two parts. x and y: the move along +X and +Y (for a head that of its
 * top, over the diameter; for work that turns, with the work back at 0).
 */
export interface CircleCorrection extends Correction {
  /** Counter-clockwise from +X, where the move goes. */
  directionDeg: number;
  xMm: number;
  yMm: number;
  parts: CorrectionPart[];
}

/**
 * Which way the move goes for a reading that is highest at 0, +1 toward 0 or -1 from it, where the reading
 * rises as the stylus is pressed:
 * - face along the axis: high is the side where the sweep lies low, because the top of the head leans over
 *   that side; it must go back: -1;
 * - bore: high is the wall that stands nearest to the axis; it must go outward: +1;
 * - boss: high is the wall that stands farthest from the axis; it must come inward: -1.
 */
function moveSign(setUp: CircleSetUp, sense: CircleSense): number {
  const pressed = sense.rises === 'toward' ? 1 : -1;
  const isBore = setUp.circle.reads === 'wall round the axis' && sense.face === 'bore';
  return isBore ? pressed : -pressed;
}

function partOf(part: CirclePart, kind: Correction['kind'], signedMm: number, unit: LengthUnit) {
  const way = signedMm >= 0 ? part.ways.plus : part.ways.minus;
  const amountMm = Math.abs(signedMm);
  return {
    name: part.name,
    kind,
    amountMm,
    signedMm,
    direction: way.direction,
    where: way.where,
    words: way.say.replace('{amount}', formatLength(amountMm, unit)),
  } satisfies CorrectionPart;
}

/**
 * The move that puts a circle right. `seenMm`: parts smaller than this are within what can be seen and are
 * left out of the words of the whole. null: the face was not said, so the way is not known.
 */
export function correctCircle(
  setUp: CircleSetUp,
  fit: { cosMm: number; sinMm: number },
  sense: CircleSense,
  seenMm: number,
  unit: LengthUnit,
): CircleCorrection | null {
  const { circle } = setUp;
  if (circle.reads === 'wall round the axis' && sense.face === null) return null;
  const sign = moveSign(setUp, sense) * circle.perAmplitude;
  const xMm = noMinusZero(sign * fit.cosMm);
  const yMm = noMinusZero(sign * fit.sinMm * (sense.turns === 'work' ? -1 : 1));

  const parts = circle.parts.map((part) => {
    const deg = part.towardDeg + (circle.hasJaws ? sense.jawOneDeg : 0);
    const signedMm = noMinusZero(xMm * cosDeg(deg) + yMm * sinDeg(deg));
    return partOf(part, circle.corrects, signedMm, unit);
  });
  const largest = parts.reduce((a, b) => (b.amountMm > a.amountMm ? b : a));
  const told = parts.filter((part) => part === largest || part.amountMm > seenMm);
  const directionDeg = (Math.atan2(yMm, xMm) * 180) / Math.PI;
  const joined = (texts: readonly string[]) => [...new Set(texts)].join(' and ');
  return {
    kind: circle.corrects,
    amountMm: Math.hypot(xMm, yMm),
    direction: joined(told.map((part) => part.direction)),
    where: joined(told.map((part) => part.where)),
    words: `${sense.turns === 'work' ? 'With the work turned back to 0: ' : ''}${told.map((part) => part.words).join(' ')}`,
    directionDeg: directionDeg < 0 ? directionDeg + 360 : directionDeg,
    xMm,
    yMm,
    parts,
  };
}

function noMinusZero(mm: number): number {
  return mm === 0 ? 0 : mm;
}
