import {
  arcsecFromRadians,
  type LengthUnit,
  MM_PER_INCH,
  radiansFromArcsec,
  type Slip,
} from '@taptrue/protocol';
import { mmOfSteps, stepsText } from '../exact-length.ts';
import { angleOfHeight } from '../stack/build-stack.ts';

export interface SlipQuestion {
  unit: LengthUnit;
  /** What was taken, steps, in any order. */
  taken: readonly number[];
  /** Sizes of the set. */
  sizes: readonly number[];
  planned: readonly number[];
  wearSteps: number | null;
  targetSteps: number;
  resolutionSteps: number;
  barMm: number | null;
  barUnit: LengthUnit | null;
  /** Angle wanted between bar and jaw. */
  wantedRad: number | null;
}

/** Bars that are about, mm. */
const USUAL_BARS: readonly { text: string; mm: number; unit: LengthUnit }[] = [
  ...[2.5, 3, 5, 10].map((inch) => ({
    text: `${inch} in`,
    mm: inch * MM_PER_INCH,
    unit: 'in' as const,
  })),
  ...[100, 200, 300].map((mm) => ({ text: `${mm} mm`, mm, unit: 'mm' as const })),
];

/** Wear pairs that are about: 0.050 and 0.100 in, 1 and 2 mm. */
const USUAL_WEAR: Readonly<Record<LengthUnit, readonly number[]>> = {
  in: [1000, 2000],
  mm: [2000, 4000],
};

const sum = (sizes: readonly number[]) => sizes.reduce((total, size) => total + size, 0);

/** The digits that count: 0.1001 and 0.101 are both "11", 1.005 and 1.05 both "15". */
function digitsOf(steps: number, unit: LengthUnit): string {
  return stepsText(steps, unit).replace(/[0.]/g, '');
}

/** What is in `a` and not in `b`, pieces counted. */
export function lessThose(a: readonly number[], b: readonly number[]): number[] {
  const rest = [...b];
  return a.filter((size) => {
    const at = rest.indexOf(size);
    if (at >= 0) rest.splice(at, 1);
    return at < 0;
  });
}

function blockSlips(q: SlipQuestion): { code: string; text: string }[] {
  const name = (steps: number) => stepsText(steps, q.unit);
  const difference = sum(q.taken) - q.targetSteps;
  const slips: { code: string; text: string }[] = [];
  const wear = q.wearSteps;
  if (wear !== null && (difference === -2 * wear || difference === -wear)) {
    const what = difference === -wear ? 'One block of the wear pair is' : 'The wear pair is';
    slips.push({
      code: 'wear-pair-forgotten',
      text: `${what} missing: the sum counts on two of ${name(wear)}.`,
    });
  }
  for (const usual of USUAL_WEAR[q.unit]) {
    if (difference === 2 * usual && q.taken.filter((size) => size === usual).length >= 2) {
      slips.push({
        code: 'wear-pair-not-counted',
        text: `A wear pair of ${name(usual)} stands in the stack and was not counted in the sum.`,
      });
    }
  }
  const distinct = [...new Set([...q.planned, ...q.sizes])];
  for (const took of new Set(q.taken)) {
    const meant = took - difference;
    if (
      meant === took ||
      !distinct.includes(meant) ||
      digitsOf(meant, q.unit) !== digitsOf(took, q.unit)
    )
      continue;
    slips.push({
      code: 'tenth-for-thousandth',
      text: `${name(took)} was taken for ${name(meant)}: the same figures, one decimal place apart.`,
    });
  }
  const missing = lessThose(q.planned, q.taken);
  const extra = lessThose(q.taken, q.planned);
  if (slips.length > 0) return slips;
  if (missing.length === 1 && extra.length === 1)
    slips.push({
      code: 'wrong-block',
      text: `${name(extra[0]!)} was taken where the plan has ${name(missing[0]!)}.`,
    });
  if (missing.length === 1 && extra.length === 0)
    slips.push({ code: 'block-left-out', text: `${name(missing[0]!)} was left out.` });
  if (missing.length === 0 && extra.length === 1)
    slips.push({ code: 'block-too-many', text: `${name(extra[0]!)} is one block too many.` });
  return slips;
}

function arithmeticSlips(q: SlipQuestion): { code: string; text: string }[] {
  const { barMm, wantedRad } = q;
  if (barMm === null || wantedRad === null) return [];
  const sumMm = mmOfSteps(sum(q.taken), q.unit);
  // Half of what the set resolves, or of the four (inch) or three (metric) decimals a table prints.
  const printed = 2;
  const withinMm = mmOfSteps(Math.max(q.resolutionSteps, printed), q.unit) * 0.51;
  const makes = (heightMm: number) => Math.abs(heightMm - sumMm) <= withinMm;
  const slips: { code: string; text: string }[] = [];
  const say = (code: string, text: string) => slips.push({ code, text });
  const deg = (wantedRad * 180) / Math.PI;

  if (makes(barMm * Math.tan(wantedRad)))
    say(
      'tangent-for-sine',
      'The height was worked with the tangent; a bar on its rolls wants the sine.',
    );
  if (makes(barMm * Math.cos(wantedRad)))
    say(
      'cosine-for-sine',
      'The height was worked with the cosine: that is the angle from the other line, 90 degrees less.',
    );
  if (makes(barMm * Math.abs(Math.sin(deg))))
    say(
      'calculator-in-radians',
      `The calculator was in radians: it took ${Number(deg.toFixed(4))} for radians.`,
    );
  if (makes(barMm * Math.sin(2 * wantedRad)))
    say(
      'included-for-half',
      'The height is that of twice the angle: included and half angle mixed.',
    );
  if (makes(barMm * Math.sin(wantedRad / 2)))
    say(
      'half-for-included',
      'The height is that of half the angle: included and half angle mixed.',
    );

  const arcsec = arcsecFromRadians(wantedRad);
  const whole = Math.floor(arcsec / 3600 + 1e-9);
  const minutes = (arcsec - whole * 3600) / 60;
  if (minutes > 1e-6) {
    if (makes(barMm * Math.sin(radiansFromArcsec((whole + minutes / 100) * 3600)))) {
      say(
        'minutes-read-as-decimals',
        `${whole}° ${Number(minutes.toFixed(2))}′ was keyed as ${(whole + minutes / 100).toFixed(2)} degrees.`,
      );
    }
    const decimals = (arcsec / 3600 - whole) * 100;
    if (decimals < 60 && makes(barMm * Math.sin(radiansFromArcsec(whole * 3600 + decimals * 60)))) {
      say(
        'decimals-read-as-minutes',
        `${(whole + decimals / 100).toFixed(2)}° was taken for ${whole}° ${Number(decimals.toFixed(2))}′.`,
      );
    }
  }
  for (const bar of USUAL_BARS) {
    if (Math.abs(bar.mm - barMm) < barMm * 0.02 || !makes(bar.mm * Math.sin(wantedRad))) continue;
    const mixed = q.barUnit !== null && q.barUnit !== bar.unit;
    say(
      mixed ? 'inch-and-metric-mixed' : 'height-for-another-bar',
      `This is the height for a ${bar.text} bar${mixed ? ': inch and metric are mixed' : ''}.`,
    );
  }
  return slips;
}

/** The usual slips that explain the sum of what was taken, each with the angle it would have made. */
export function findSlips(q: SlipQuestion): Slip[] {
  const angle = angleOfHeight(mmOfSteps(sum(q.taken), q.unit), q.barMm, q.wantedRad);
  return [...blockSlips(q), ...arithmeticSlips(q)].map((slip) => ({
    ...slip,
    angleDeg: angle.deg,
    angleErrorArcsec: angle.errorArcsec,
  }));
}
