import {
  ALONG_THE_JAW,
  type BlockSet,
  type PlanQuestion,
  type WrittenAngle,
} from '@taptrue/protocol';
import { readMeasuredAngle } from './angle/measured-from.ts';
import { type ExactLength, readSize } from './exact-length.ts';
import { USUAL_ROLL_SHARE } from './jaw-fit.ts';
import { type Planned, refuse } from './plan-fault.ts';
import { readBlock, type Shelf, shelfOf } from './sets/shelf.ts';

/** Above this the complement is offered: a bar's length error weighs as the tangent of its angle. */
export const STEEP_ARCSEC = 45 * 3600;

/** Below this a block under both rolls, or the bare jaw, is offered: 1 degree is 0.087 in on a 5 in bar. */
export const SHALLOW_ARCSEC = 1.5 * 3600;

/** Steepest slope the sweep itself can be aimed at (its setup ends there), 11.3 degrees. */
export const STEEPEST_SLOPE = 0.2;

/** A jaw of the usual 6 in vise, where no width was given. */
const USUAL_JAW_MM = 152.4;

/** A question with every text read. Angles in seconds of arc. */
export interface ReadQuestion {
  /** Of the jaw from X, as it is to be set. */
  angleArcsec: number;
  written: WrittenAngle;
  way: 'bar' | 'complement' | 'both rolls' | 'sweep the jaw' | 'jaw straight';
  /** Angle between bar and jaw; null: no bar is used. */
  barArcsec: number | null;
  bar: {
    length: ExactLength;
    certifiedMm: number | null;
    rollMm: number;
    rollAssumed: boolean;
  } | null;
  jawMm: number | null;
  drawnJawMm: number;
  sweptMm: number;
  shelf: Shelf | null;
  wearSteps: number | null;
}

function optionalSize(field: string, text: string | null): Planned<number | null> {
  if (text === null || text.trim() === '') return { ok: true, value: null };
  const read = readSize(field, text);
  return read.ok ? { ok: true, value: read.value.mm } : read;
}

export function findSet(sets: readonly BlockSet[], id: string): Planned<BlockSet> {
  const set = sets.find((one) => one.id === id);
  if (set) return { ok: true, value: set };
  return refuse(
    'set',
    'unknown-set',
    'There is no such block set.',
    `"${id}"`,
    `Known: ${sets.map((one) => one.id).join(', ')}.`,
  );
}

function readBar(question: PlanQuestion): Planned<ReadQuestion['bar']> {
  const { bar } = question;
  if (bar === null) return { ok: true, value: null };
  const length = readSize('bar', bar.length);
  if (!length.ok) return length;
  const roll = optionalSize('roll diameter', bar.rollDiameter);
  if (!roll.ok) return roll;
  const certified = optionalSize('bar uncertainty', bar.lengthUncertainty);
  if (!certified.ok) return certified;
  if (certified.value !== null && certified.value > length.value.mm / 100) {
    return refuse(
      'bar uncertainty',
      'absurd-uncertainty',
      'The uncertainty of the bar is more than a hundredth of its length.',
      `"${bar.lengthUncertainty}"`,
      'Check its unit.',
    );
  }
  return {
    ok: true,
    value: {
      length: length.value,
      certifiedMm: bar.lengthIs === 'certified' ? certified.value : null,
      rollMm: roll.value ?? length.value.mm * USUAL_ROLL_SHARE,
      rollAssumed: roll.value === null,
    },
  };
}

function wayOf(question: PlanQuestion, angleArcsec: number): ReadQuestion['way'] {
  const { steep, shallow } = question.decisions;
  if (angleArcsec === 0) return 'jaw straight';
  if (angleArcsec > STEEP_ARCSEC && steep === 'complement')
    return angleArcsec === 2 * STEEP_ARCSEC ? 'jaw straight' : 'complement';
  if (
    shallow === 'sweep the jaw' &&
    Math.tan((angleArcsec / 3600 / 180) * Math.PI) <= STEEPEST_SLOPE
  )
    return 'sweep the jaw';
  if (shallow === 'both rolls' && angleArcsec <= SHALLOW_ARCSEC) return 'both rolls';
  return 'bar';
}

/** Reads every text of the question; the first that cannot be meant is refused with its field. */
export function readQuestion(
  question: PlanQuestion,
  sets: readonly BlockSet[],
): Planned<ReadQuestion> {
  const angle = readMeasuredAngle(
    question.angle.text,
    question.angle.kind,
    question.measuredFrom ?? ALONG_THE_JAW,
  );
  if (!angle.ok) return angle;
  const { setArcsec, written } = angle.value;
  const way = wayOf(question, setArcsec);
  const bar = readBar(question);
  if (!bar.ok) return bar;
  const jaw = optionalSize('jaw', question.jaw.width);
  if (!jaw.ok) return jaw;
  const swept = optionalSize('swept length', question.sweptLength);
  if (!swept.ok) return swept;
  const needsBar = way === 'bar' || way === 'complement' || way === 'both rolls';
  if (needsBar && bar.value === null) {
    return refuse(
      'bar',
      'bar-missing',
      'This angle needs a bar, and none is named.',
      '',
      'Give the length between the roll centres, such as 5in, or sweep the jaw itself where the angle is small.',
    );
  }
  const drawnJawMm = jaw.value ?? USUAL_JAW_MM;
  // Along the bar the stylus uses about four fifths of its length (4 in of a 5 in bar).
  const sweptMm = swept.value ?? 0.8 * (needsBar ? bar.value!.length.mm : drawnJawMm);
  const base = {
    angleArcsec: setArcsec,
    written,
    way,
    bar: needsBar ? bar.value : null,
    jawMm: jaw.value,
    drawnJawMm,
    sweptMm,
    barArcsec: needsBar ? (way === 'complement' ? 2 * STEEP_ARCSEC - setArcsec : setArcsec) : null,
  };
  if (!needsBar) return { ok: true, value: { ...base, shelf: null, wearSteps: null } };
  if (question.setId === null)
    return refuse(
      'set',
      'set-missing',
      'No block set is named.',
      '',
      'Pick the set that is in your case.',
    );
  const set = findSet(sets, question.setId);
  if (!set.ok) return set;
  const shelf = shelfOf(set.value, question.without);
  if (!shelf.ok) return shelf;
  let wearSteps: number | null = null;
  if (question.wear !== null && question.wear.trim() !== '') {
    const wear = readBlock(set.value, 'wear', question.wear);
    if (!wear.ok) return wear;
    wearSteps = wear.value;
  }
  return { ok: true, value: { ...base, shelf: shelf.value, wearSteps } };
}
