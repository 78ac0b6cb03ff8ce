import { type Caution, formatLength, type LengthUnit } from '@taptrue/protocol';
import { outliers } from '../sweep/robust.ts';
import type { FittedPass, SweepLine } from './combine-passes.ts';
import { compareDirections, type Directions } from './directions.ts';
import { heldReadings } from './held-readings.ts';
import { countSeenMm } from './indicator-count.ts';
import { atEndOfRange, stuckReadings } from './saturation.ts';
import { type Shape, shapeOf } from './shapes.ts';
import type { SweepInput } from './sweep-input.ts';
import { takingOrder } from './taking-order.ts';

/**
 * Steeper than this is no longer a small correction: over 5 in it rises 0.26 in, more than a lever
 * indicator reads, and position along the work differs from position along the bar by a part in 700.
 */
const STEEP_RAD = (3 * Math.PI) / 180;

/** Where nothing is known of the indicator and its readings do not show it: 0.0001 in, the usual count. */
const USUAL_COUNT_MM = 0.00254;

/**
 * What is surely there but lower than this share of the limit, end to end, changes no decision and is not
 * named: a bow of a micrometre under a limit of 0.001 in would only teach people to skip the cautions.
 */
const LEAST_SHARE_OF_LIMIT = 0.1;

/** Names at most so many outlying points one by one. */
const MOST_NAMED = 4;

export interface Diagnosis {
  cautions: Caution[];
  directions: Directions | null;
}

/** Names what the line cannot be trusted for, in plain words with what usually causes it. */
export function diagnose(
  input: SweepInput,
  passes: readonly FittedPass[],
  line: SweepLine,
  limitRad: number | null,
): Diagnosis {
  const leastMm = limitRad === null ? 0 : LEAST_SHARE_OF_LIMIT * Math.tan(limitRad) * line.lengthMm;
  const cautions: Caution[] = [];
  const say = (code: string, text: string) => {
    if (!cautions.some((caution) => caution.code === code)) cautions.push({ code, text });
  };
  const length = (mm: number) => formatLength(mm, input.displayUnit);
  const countMm = countOf(input, passes);

  if (input.rises === null) {
    say(
      'sense-not-known',
      'Which way the reading rises is not known, so which end lies farther away is not known either. Nudge the saddle, or say which way it rises.',
    );
  }
  sayFewPoints(passes, say);
  if (Math.abs(Math.atan(line.slope)) > STEEP_RAD) {
    say(
      'steep-slope',
      'The line is steeper than 3 degrees. Check the units of position and reading; if it is so, set the vise coarsely by protractor first.',
    );
  }
  if (input.pointsAre === 'single readings') {
    for (const pass of input.passes) {
      const order = takingOrder(pass.points);
      if (!order.oneWay) {
        say(
          'positions-out-of-order',
          'The positions go back and forth, so the lag of the indicator is mixed into the scatter. Take stations in one direction, or mark the way out and the way back.',
        );
      }
      if (order.repeated) {
        say(
          'repeated-positions',
          'Some positions occur more than once; each of their readings weighs as one point.',
        );
      }
    }
  }
  saySaturated(input, passes, countMm, say);
  for (const pass of passes) {
    const found = shapeOf(pass, countMm);
    const shape = found && Math.abs(found.heightMm) >= leastMm ? found : null;
    if (shape) say(...shapeWords(shape, input.displayUnit));
    sayOutliers(pass, countMm, leastMm, shape, length, say);
  }

  const [out, back] = passes;
  if (!out || !back) return { cautions, directions: null };
  const noiseMm = Math.max(
    line.residualStandardDeviationMm ?? 0,
    countMm / Math.sqrt(12),
    input.repeatabilityMm ?? 0,
  );
  const directions = compareDirections(out, back, countMm, noiseMm);
  sayDirections(directions, leastMm, length, say);
  return { cautions, directions };
}

type Say = (code: string, text: string) => void;

/** One count of the indicator on the surface, mm: as told, else as seen, else the usual one for few stations. */
function countOf(input: SweepInput, passes: readonly FittedPass[]): number {
  if (input.resolutionMm !== null) return input.resolutionMm * input.stylusFactor;
  const seen = passes
    .map((pass) => countSeenMm(pass.ysMm))
    .filter((count): count is number => count !== null);
  if (seen.length > 0) return Math.min(...seen);
  return passes.some((pass) => pass.line.points < 3) ? USUAL_COUNT_MM : 0;
}

function sayFewPoints(passes: readonly FittedPass[], say: Say): void {
  const fewest = Math.min(...passes.map((pass) => pass.line.points));
  if (fewest === 2) {
    say(
      'two-stations',
      'Two stations always lie on a line: nothing here can show a chip, a bow or scatter. The uncertainty is only what is known of the indicator beforehand.',
    );
  } else if (fewest === 3) {
    say(
      'three-stations',
      'Three stations barely show their scatter. Five or more tell a bow or a chip from noise.',
    );
  }
}

function saySaturated(
  input: SweepInput,
  passes: readonly FittedPass[],
  countMm: number,
  say: Say,
): void {
  const remedy = 'Reset its preload and sweep again.';
  const range = input.rangeMm;
  const ended = range
    ? input.passes.flatMap((pass) => atEndOfRange(pass.points, range, countMm))
    : [];
  if (ended.length > 0) {
    say(
      'indicator-at-its-stop',
      `${ended.length} of the readings ${ended.length === 1 ? 'is' : 'are'} at the end of the indicator's range. ${remedy}`,
    );
    return;
  }
  for (const pass of passes) {
    const stuck = stuckReadings(pass, countMm);
    if (stuck === 0) {
      const held = heldReadings(pass, countMm);
      if (held) {
        const length = (mm: number) => formatLength(mm, input.displayUnit);
        say(
          'needle-held',
          `${held.readings} readings from ${length(held.fromMm)} to ${length(held.toMm)} are one and the same, where the line says ${length(held.missingMm)} of change: the needle stuck, or the device slept. Sweep again.`,
        );
      }
      continue;
    }
    say(
      'indicator-at-its-stop',
      `${stuck} readings at one end are the same while the rest keep changing: the indicator is probably at its stop, or the stylus has left the bar. ${remedy}`,
    );
  }
}

function shapeWords(shape: Shape, unit: LengthUnit): [code: string, text: string] {
  const height = formatLength(Math.abs(shape.heightMm), unit);
  const from = formatLength(shape.fromMm, unit);
  const to = formatLength(shape.toMm, unit);
  switch (shape.kind) {
    case 'bow':
      return [
        'bow',
        `The points lie on a curve, ${height} deep, not on a line. Usual causes: a bent jaw or bar, a bar sprung by its hold, worn ways.`,
      ];
    case 'step':
      return [
        'step',
        `The points jump by ${height} between ${from} and ${to}. Usual causes: a chip or burr passed under a roll, the bar re-seated, the mount slipped or was touched.`,
      ];
    case 'bump':
      return [
        'lone-bump',
        `A lone bump of ${height} at ${from === to ? from : `${from} to ${to}`}. Usual causes: a chip or burr under the stylus, dirt on the bar, a knock.`,
      ];
  }
}

function sayOutliers(
  pass: FittedPass,
  countMm: number,
  leastMm: number,
  shape: Shape | null,
  length: (mm: number) => string,
  say: Say,
): void {
  if (!pass.robust) return;
  const isInBump = (x: number) =>
    shape?.kind === 'bump' && x >= shape.fromMm - 1e-9 && x <= shape.toMm + 1e-9;
  const { xsMm, ysMm, robust } = pass;
  const distanceMm = (index: number) =>
    Math.abs(ysMm[index]! - robust.interceptMm - robust.slope * xsMm[index]!);
  const named = outliers(xsMm, ysMm, robust, countMm).filter(
    (index) => !isInBump(xsMm[index]!) && distanceMm(index) >= leastMm,
  );
  if (named.length === 0) return;
  const places = named.slice(0, MOST_NAMED).map((index) => length(pass.xsMm[index]!));
  const more = named.length > MOST_NAMED ? ` and ${named.length - MOST_NAMED} more` : '';
  say(
    'outlying-points',
    `Far off the line of the others: the point${named.length > 1 ? 's' : ''} at ${places.join(', ')}${more}. Nothing was left out. Look for a chip or burr there, or take ${named.length > 1 ? 'them' : 'it'} again.`,
  );
}

function sayDirections(
  found: Directions,
  leastMm: number,
  length: (mm: number) => string,
  say: Say,
): void {
  if (Math.max(Math.abs(found.gapMm), Math.abs(found.closureMm ?? 0)) < leastMm) return;
  if (found.finding === 'open loop') {
    const by = found.closureMm === null ? '' : ` by ${length(Math.abs(found.closureMm))}`;
    say(
      'open-loop',
      `The start did not repeat on return${by}. Usual causes: a loose mount, a magnet dragging, the bar not on both rolls, something warming up.`,
    );
  } else if (found.finding === 'gap') {
    say(
      'gap-between-directions',
      `Out and back differ by ${length(Math.abs(found.gapMm))} all along. Usual causes: lag of the indicator, play in its mount, loose gibs.`,
    );
  }
}
