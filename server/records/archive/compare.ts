import {
  arcsecFromRadians,
  type ComparedSweep,
  type Comparison,
  formatAngle,
  type LengthUnit,
  type RecordEntryOf,
  radiansFromArcsec,
  type SweepResult,
  type TurnRow,
} from '@taptrue/protocol';
import { repeatsOf, runsOfRepeats } from './repeats.ts';

/** A sweep to be laid over others, as it was kept. */
export interface SweepToCompare {
  job: string;
  jobNumber: number;
  endedAt: string;
  ended: RecordEntryOf<'sweep ended'> & { result: SweepResult };
}

/** Two to twenty sweeps over each other, oldest first, with what lies between each and the next. Pure. */
export function compareSweeps(
  sweeps: readonly SweepToCompare[],
  turns: ReadonlyMap<string, readonly TurnRow[]>,
  unit: LengthUnit,
): Comparison {
  const inOrder = oldestFirst(sweeps);
  const differences = inOrder.slice(1).map((after, index) => {
    const before = inOrder[index]!;
    return differenceOf(before, after, turns);
  });
  return {
    sweeps: inOrder.map(comparedOf),
    differences,
    ...repeatsIn(inOrder, turns, unit),
  };
}

/** Jobs by the time of day, the sweeps of each by their number: the clock of the wall may be set back within a job. */
function oldestFirst(sweeps: readonly SweepToCompare[]): SweepToCompare[] {
  const began = new Map<string, string>();
  for (const { job, endedAt } of sweeps) {
    const known = began.get(job);
    if (known === undefined || endedAt < known) began.set(job, endedAt);
  }
  return [...sweeps].sort(
    (a, b) =>
      began.get(a.job)!.localeCompare(began.get(b.job)!) ||
      a.job.localeCompare(b.job) ||
      a.ended.sweep - b.ended.sweep,
  );
}

function comparedOf({ job, jobNumber, endedAt, ended }: SweepToCompare): ComparedSweep {
  const { result, surfacePerReading, points } = ended;
  const lineAt = (xMm: number) => result.interceptMm + result.slope * xMm;
  return {
    job,
    jobNumber,
    title: `job ${jobNumber}, sweep ${ended.sweep}, ${ended.stage}`,
    number: ended.sweep,
    stage: ended.stage,
    endedAt,
    simulated: ended.simulated,
    verdict: result.verdict,
    outOfTrueArcsec: result.outOfTrueArcsec,
    expandedArcsec: result.outOfTrueArcsecExpanded,
    midHeightMm: lineAt((result.fromMm + result.toMm) / 2),
    fromMm: result.fromMm,
    toMm: result.toMm,
    slope: result.slope,
    interceptMm: result.interceptMm,
    points: points.map(({ xMm, readingMm, pass }) => {
      const heightMm = surfacePerReading * readingMm;
      return { xMm, pass, heightMm, offMm: heightMm - lineAt(xMm) };
    }),
  };
}

function differenceOf(
  before: SweepToCompare,
  after: SweepToCompare,
  turns: ReadonlyMap<string, readonly TurnRow[]>,
): Comparison['differences'][number] {
  const angle = ({ ended }: SweepToCompare) => arcsecFromRadians(Math.atan(ended.result.slope));
  const expanded = ({ ended }: SweepToCompare) => ended.result.outOfTrueArcsecExpanded;
  const turnedArcsec = angle(after) - angle(before);
  const [one, other] = [expanded(before), expanded(after)];
  const uncertaintyArcsec = one === null || other === null ? null : Math.hypot(one, other);
  const size = formatAngle(radiansFromArcsec(Math.abs(turnedArcsec)));
  const way = turnedArcsec > 0 ? ' counter-clockwise' : turnedArcsec < 0 ? ' clockwise' : '';
  const within =
    uncertaintyArcsec === null ? '' : ` ± ${formatAngle(radiansFromArcsec(uncertaintyArcsec))}`;
  const isTold = uncertaintyArcsec !== null && Math.abs(turnedArcsec) <= uncertaintyArcsec;
  return {
    turnedArcsec,
    uncertaintyArcsec,
    words: `Turned ${size}${within}${way}${isTold ? ', no more than both are known to' : ''}. ${happenedBetween(before, after, turns)}`,
  };
}

/** What was done between two sweeps of one job; sweeps that were left out count. */
function happenedBetween(
  before: SweepToCompare,
  after: SweepToCompare,
  turns: ReadonlyMap<string, readonly TurnRow[]>,
): string {
  if (before.job !== after.job) return 'Of two jobs: whatever was set up between them is in it.';
  const between = (turns.get(after.job) ?? []).filter(
    (turn) => turn.before >= before.ended.sweep && turn.after <= after.ended.sweep,
  );
  const ends = [...new Set(between.flatMap(({ tapped }) => tapped ?? []))];
  const done = [
    ends.length > 0 ? `tapped at the ${ends.join(' and the ')} end` : '',
    between.some(({ clampChanges }) => clampChanges > 0)
      ? before.ended.stage === after.ended.stage
        ? `clamps changed and put back to ${after.ended.stage}`
        : `clamps from ${before.ended.stage} to ${after.ended.stage}`
      : '',
    between.some(({ zeroMoved }) => zeroMoved !== null) ? 'the zero moved' : '',
  ].filter((words) => words !== '');
  return done.length === 0 ? 'No tap was noticed between.' : `Between them: ${done.join(', ')}.`;
}

function repeatsIn(
  sweeps: readonly SweepToCompare[],
  turns: ReadonlyMap<string, readonly TurnRow[]>,
  unit: LengthUnit,
): Pick<Comparison, 'repeats' | 'whyNoRepeats'> {
  const none = (whyNoRepeats: string) => ({ repeats: null, whyNoRepeats });
  const jobs = new Set(sweeps.map(({ job }) => job));
  if (jobs.size > 1)
    return none('They are of several jobs: how one setting repeats cannot be told from them.');
  const repeated = sweeps.map(({ ended: { sweep, stage, surfacePerReading, result } }) => ({
    number: sweep,
    stage,
    surfacePerReading,
    slope: result.slope,
    lengthMm: result.lengthMm,
  }));
  const [job] = jobs;
  const [run] = runsOfRepeats(repeated, turns.get(job!) ?? []);
  if (run?.length !== repeated.length)
    return none(
      'Something was tapped, clamped or left out between them: how the bench repeats is told by sweeps taken one after the other with nothing touched.',
    );
  return { repeats: repeatsOf(job!, run, unit), whyNoRepeats: '' };
}
