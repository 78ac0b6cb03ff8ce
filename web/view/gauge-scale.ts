import { fromMm, type LengthUnit, toMm } from '@taptrue/protocol';
import { rungAtLeast } from './steps.ts';

/** A straight scale, in the unit the dial shows. */
export interface GaugeScale {
  unit: LengthUnit;
  lowMm: number;
  highMm: number;
  /** Between numbered graduations. */
  majorMm: number;
  /** Between the shortest graduations. */
  minorMm: number;
}

export interface Notch {
  readingMm: number;
  lowMm: number;
  highMm: number;
}

const MOST_MAJORS_EACH_SIDE = 6;
export const MINORS_PER_MAJOR = 5;
/** Half of the least scale: four numbered graduations of 0.0005 in or 0.01 mm. */
const LEAST_HALF: Readonly<Record<LengthUnit, number>> = { in: 0.002, mm: 0.04 };
/** The scale only narrows when it is this much too wide, so that it does not breathe with every tap. */
const NARROWS_BELOW = 0.15;

/**
 * The scale for what has to be seen on it: centred on the notch where there is one, on `restMm` otherwise.
 * A scale that still serves is kept as it is: the needle moves, the graduations do not.
 */
export function gaugeScale(
  unit: LengthUnit,
  centreMm: number,
  mustShowMm: readonly number[],
  before: GaugeScale | null,
): GaugeScale {
  const reachMm = Math.max(0, ...mustShowMm.map((value) => Math.abs(value - centreMm)));
  if (before !== null && stillServes(before, unit, centreMm, mustShowMm, reachMm)) return before;
  const half = Math.max(LEAST_HALF[unit], fromMm(reachMm, unit) * 1.15);
  const major = rungAtLeast(half / MOST_MAJORS_EACH_SIDE);
  const centre = Math.round(fromMm(centreMm, unit) / major) * major;
  const moved = Math.abs(centre - fromMm(centreMm, unit));
  const reach = Math.max(half, fromMm(reachMm, unit) + moved);
  const side = Math.ceil(reach / major - 1e-9) * major;
  return {
    unit,
    lowMm: toMm(centre - side, unit),
    highMm: toMm(centre + side, unit),
    majorMm: toMm(major, unit),
    minorMm: toMm(major / MINORS_PER_MAJOR, unit),
  };
}

function stillServes(
  scale: GaugeScale,
  unit: LengthUnit,
  centreMm: number,
  mustShowMm: readonly number[],
  reachMm: number,
): boolean {
  const halfMm = (scale.highMm - scale.lowMm) / 2;
  const offCentreMm = Math.abs((scale.highMm + scale.lowMm) / 2 - centreMm);
  const slackMm = scale.minorMm * 1e-6;
  const isLeast = halfMm <= toMm(LEAST_HALF[unit], unit) + slackMm;
  return (
    scale.unit === unit &&
    offCentreMm < scale.majorMm &&
    mustShowMm.every((mm) => mm >= scale.lowMm - slackMm && mm <= scale.highMm + slackMm) &&
    (isLeast || reachMm >= halfMm * NARROWS_BELOW)
  );
}

export interface Graduation {
  fraction: number;
  length: 'long' | 'short';
  /** The number beside it, in the scale's unit; null: none. */
  value: number | null;
}

/** All graduations from left to right, fractions of the scale's length. */
export function graduations(scale: GaugeScale): Graduation[] {
  const count = Math.round((scale.highMm - scale.lowMm) / scale.minorMm);
  return Array.from({ length: count + 1 }, (_, index) => {
    const isMajor = index % MINORS_PER_MAJOR === 0;
    const value = fromMm(scale.lowMm + index * scale.minorMm, scale.unit);
    return {
      fraction: index / count,
      length: isMajor ? 'long' : 'short',
      value: isMajor ? value : null,
    };
  });
}

/** Numbers only every so many long graduations, counted from the middle, so that they never touch. */
export function numberEvery(scale: GaugeScale, widthPx: number, numberWidthPx: number): number {
  const majors = Math.round((scale.highMm - scale.lowMm) / scale.majorMm);
  return Math.max(1, Math.ceil((numberWidthPx * majors) / widthPx));
}

/** Decimals that the numbered graduations need. */
export function graduationDecimals(scale: GaugeScale): number {
  return Math.max(0, -Math.floor(Math.log10(fromMm(scale.majorMm, scale.unit)) + 1e-9));
}

export interface NeedlePlace {
  /** 0 at the low end of the scale, 1 at the high end. */
  fraction: number;
  /** The reading lies beyond this end; the needle stands against it and says so. */
  beyond: 'low' | 'high' | null;
}

/** Where the needle stands; null where there is no reading: a missing one must not look like a good one. */
export function needlePlace(readingMm: number | null, scale: GaugeScale): NeedlePlace | null {
  if (readingMm === null || !Number.isFinite(readingMm)) return null;
  const fraction = (readingMm - scale.lowMm) / (scale.highMm - scale.lowMm);
  if (fraction < 0) return { fraction: 0, beyond: 'low' };
  if (fraction > 1) return { fraction: 1, beyond: 'high' };
  return { fraction, beyond: null };
}

/** The notch cut into the scale's edge: as wide as the stop band, never narrower than can be seen. */
export function notchSpan(
  notch: Notch,
  scale: GaugeScale,
  widthPx: number,
  leastPx = 10,
): { fromPx: number; toPx: number; middlePx: number } {
  const perMm = widthPx / (scale.highMm - scale.lowMm);
  const at = (mm: number) => Math.min(widthPx, Math.max(0, (mm - scale.lowMm) * perMm));
  const middlePx = at(notch.readingMm);
  const fromPx = Math.min(at(notch.lowMm), middlePx - leastPx / 2);
  const toPx = Math.max(at(notch.highMm), middlePx + leastPx / 2);
  return { fromPx, toPx, middlePx };
}
