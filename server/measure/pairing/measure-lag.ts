import type { Fault } from '@taptrue/protocol';
import { solveNormal } from './solve-normal.ts';

/** A reading with the place and time it was paired with, by arrival. */
export interface TimedSample {
  xMm: number;
  readingMm: number;
  atMs: number;
}

export interface Lag {
  /** How much later the indicator's reading arrives than the readout's position of the same moment; may be negative. */
  lagMs: number;
  lagStandardErrorMs: number;
  /** What remains of the loop however slow the table moves: play of the indicator and of the table, as the dial shows it. */
  playMm: number;
  playStandardErrorMm: number;
  slowestMmPerS: number;
  fastestMmPerS: number;
}

export type LagOutcome = { ok: true; lag: Lag } | { ok: false; fault: Fault };

/** Speed is taken from positions this far apart in time, so that steps of a readout do not look like speed, ms. */
const SPEED_OVER_MS = 300;
/** Slower is standing still. */
const LEAST_SPEED_MM_PER_S = 0.2;
/** The fast traverse must be this much faster than the slow one: with one speed lag and play are one. */
const LEAST_SPEED_RATIO = 1.8;
const LEAST_SAMPLES = 40;
/** A lag less sure than this would correct nothing: 20 ms at 10 mm/s are 0.2 mm of position. */
const LARGEST_STANDARD_ERROR_MS = 20;

interface Moving {
  xMm: number;
  readingMm: number;
  speedMmPerS: number;
}

/**
 * The out-and-back method. Along an edge of slope b, traversed at velocity v, the dial shows
 * r = a + b·x − b·lag·v − (play/2)·sign(v): the part of the loop that grows with speed is lag, the rest is
 * play. All four are found at once by least squares over every sample of all legs. A leg is one traverse, its
 * samples in the order of time. Needs both directions, two speeds, and an edge well out of true. Pure.
 */
export function measureLag(legs: readonly (readonly TimedSample[])[]): LagOutcome {
  const moving = legs.flatMap(movingSamples);
  const refusal = reasonForNoLag(moving);
  if (refusal) return { ok: false, fault: refusal };
  const middleMm = mean(moving.map(({ xMm }) => xMm));
  const rows = moving.map(({ xMm, speedMmPerS }) => [
    1,
    xMm - middleMm,
    speedMmPerS,
    Math.sign(speedMmPerS),
  ]);
  const fit = solveNormal(
    rows,
    moving.map(({ readingMm }) => readingMm),
  );
  if (!fit) return { ok: false, fault: oneSpeed('all legs alike') };
  const slope = fit.coefficients[1]!;
  const lagMs = (-fit.coefficients[2]! / slope) * 1000;
  // To first order; the slope itself is known far better than what is divided by it.
  const lagStandardErrorMs = (fit.standardErrors[2]! / Math.abs(slope)) * 1000;
  if (!(lagStandardErrorMs <= LARGEST_STANDARD_ERROR_MS)) {
    return { ok: false, fault: tooTrue(slope, lagStandardErrorMs) };
  }
  const speeds = moving.map(({ speedMmPerS }) => Math.abs(speedMmPerS));
  return {
    ok: true,
    lag: {
      lagMs,
      lagStandardErrorMs,
      playMm: -2 * fit.coefficients[3]! * Math.sign(slope),
      playStandardErrorMm: 2 * fit.standardErrors[3]!,
      slowestMmPerS: quantile(speeds, 0.1),
      fastestMmPerS: quantile(speeds, 0.9),
    },
  };
}

/** Samples with the speed at each; the ends of a leg, where the table starts and stops, are left out. */
function movingSamples(leg: readonly TimedSample[]): Moving[] {
  const moving: Moving[] = [];
  let from = 0;
  let to = 0;
  for (const sample of leg) {
    while (from < leg.length && sample.atMs - leg[from]!.atMs > SPEED_OVER_MS / 2) from += 1;
    while (to < leg.length && leg[to]!.atMs - sample.atMs < SPEED_OVER_MS / 2) to += 1;
    const before = leg[from - 1];
    const after = leg[to];
    if (!before || !after) continue;
    const speedMmPerS = ((after.xMm - before.xMm) / (after.atMs - before.atMs)) * 1000;
    if (Math.abs(speedMmPerS) < LEAST_SPEED_MM_PER_S) continue;
    moving.push({ xMm: sample.xMm, readingMm: sample.readingMm, speedMmPerS });
  }
  return moving;
}

function reasonForNoLag(moving: readonly Moving[]): Fault | null {
  const out = moving.filter(({ speedMmPerS }) => speedMmPerS > 0);
  const back = moving.filter(({ speedMmPerS }) => speedMmPerS < 0);
  if (out.length < LEAST_SAMPLES || back.length < LEAST_SAMPLES) {
    return {
      code: 'lag-needs-both-ways',
      what: 'Lag and play are found from traverses out and back; one direction is missing or too short.',
      got: `${out.length} readings one way, ${back.length} the other, while the table moved`,
      remedy: 'Sweep out and back slowly, then out and back quickly.',
    };
  }
  const speeds = moving.map(({ speedMmPerS }) => Math.abs(speedMmPerS));
  const slow = quantile(speeds, 0.1);
  const fast = quantile(speeds, 0.9);
  return fast < LEAST_SPEED_RATIO * slow
    ? oneSpeed(`${slow.toFixed(1)} to ${fast.toFixed(1)} mm/s`)
    : null;
}

function oneSpeed(got: string): Fault {
  return {
    code: 'lag-needs-two-speeds',
    what: 'With one speed the lag cannot be told from the play.',
    got,
    remedy: 'Sweep out and back once more, at twice the speed or half of it.',
  };
}

function tooTrue(slope: number, standardErrorMs: number): Fault {
  return {
    code: 'lag-needs-slope',
    what: 'The edge is too true, or the readings too few, for the lag to show.',
    got: `${(slope * 100).toFixed(3)} mm over 100 mm, lag unsure by ${standardErrorMs.toFixed(0)} ms`,
    remedy: 'Turn the vise well out of true, 1 mm over the length, and sweep again at both speeds.',
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function quantile(values: readonly number[], part: number): number {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[Math.floor(part * (sorted.length - 1))]!;
}
