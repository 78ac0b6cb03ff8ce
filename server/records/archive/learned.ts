import {
  formatAngle,
  formatLength,
  type Learned,
  type LengthUnit,
  radiansFromArcsec,
  STAGES,
  type Stage,
  type TurnRow,
} from '@taptrue/protocol';
import { coverageFactor95 } from '../../measure/verdict/student-t.ts';
import { spreadOf } from './spread.ts';

/**
 * From so many jobs on aiming off is offered: the fewest with which the mean is known (95 %) to within less than
 * one spread, t / sqrt(n) = 0.92 for seven, 1.05 for six.
 */
export const FAIR_NUMBER_OF_JOBS = 7;
/** A shift below this share of the limit is not worth aiming off for. */
export const LEAST_SHARE_OF_LIMIT = 0.1;

export type TurnOfJob = TurnRow & { job: number };
type Shift = Learned['shifts'][number];

export interface LearnedQuestion {
  machine: string;
  turns: readonly TurnOfJob[];
  /** Stage of now: what aiming off is offered for. */
  stage: Stage;
  /** null: none is set. */
  limitArcsec: number | null;
  unit: LengthUnit;
}

/** What the jobs of one vise taught, and what may be aimed off at the stage of now. Pure. */
export function learnedFrom(question: LearnedQuestion): Learned {
  const { machine, turns, unit } = question;
  const shifts = shiftsOf(turns);
  return {
    machine,
    pivots: pivotsOf(turns, unit),
    shifts,
    fairNumber: FAIR_NUMBER_OF_JOBS,
    ...aimOf(question, shifts),
  };
}

/**
 * Turned by tightening alone: one step of the clamps toward tight, nothing tapped, and swept before and after.
 * A job counts once, with its mean, so that one stubborn job does not pass for many.
 */
function shiftsOf(turns: readonly TurnOfJob[]): Shift[] {
  const shifts: Shift[] = [];
  for (const from of STAGES) {
    for (const to of STAGES.slice(STAGES.indexOf(from) + 1)) {
      const ofPair = turns.filter(
        (turn) =>
          turn.stageBefore === from &&
          turn.stageAfter === to &&
          turn.tapped === null &&
          turn.clampChanges === 1,
      );
      const spread = spreadOf(meansOfJobs(ofPair, ({ turnedArcsec }) => turnedArcsec));
      if (spread === null) continue;
      const usual = { mean: spread.mean, spread: spread.standardDeviation, jobs: spread.count };
      shifts.push({ from, to, ...usual, words: shiftWords(from, to, usual) });
    }
  }
  return shifts;
}

function pivotsOf(turns: readonly TurnOfJob[], unit: LengthUnit): Learned['pivots'] {
  return STAGES.flatMap((stage) =>
    (['left', 'right'] as const).flatMap((end) => {
      const found = turns.filter(
        (turn) =>
          turn.stageAfter === stage && turn.tapped === end && turn.pivotFromLeftClampMm !== null,
      );
      const spread = spreadOf(
        meansOfJobs(found, ({ pivotFromLeftClampMm }) => pivotFromLeftClampMm ?? 0),
      );
      if (spread === null) return [];
      const usual = { mean: spread.mean, spread: spread.standardDeviation, jobs: spread.count };
      return [{ stage, end, ...usual, words: pivotWords(stage, end, usual, unit) }];
    }),
  );
}

/** One figure a job, oldest job first. */
function meansOfJobs(turns: readonly TurnOfJob[], figure: (turn: TurnOfJob) => number): number[] {
  const jobs = new Map<number, number[]>();
  for (const turn of turns) jobs.set(turn.job, [...(jobs.get(turn.job) ?? []), figure(turn)]);
  return [...jobs.values()].map((figures) => spreadOf(figures)!.mean);
}

/** The steps from the stage of now to tight, as this vise is usually tightened; each must be known. */
function aimOf(
  { stage, limitArcsec }: LearnedQuestion,
  shifts: readonly Shift[],
): Pick<Learned, 'aim' | 'whyNoAim'> {
  const none = (whyNoAim: string) => ({ aim: null, whyNoAim });
  if (stage === 'tight') return none('The clamps are tight: nothing is left to turn it.');
  const steps = stepsToTight(stage, shifts);
  if (steps === null)
    return none(
      `How tightening from ${stage} turns this vise is not known yet: sweep at each stage, without a tap between.`,
    );
  const jobs = Math.min(...steps.map((step) => step.jobs));
  if (jobs < FAIR_NUMBER_OF_JOBS)
    return none(
      `${jobs === 1 ? 'One job tells' : `${jobs} jobs tell`} how tightening from ${stage} turns this vise; from ${FAIR_NUMBER_OF_JOBS} on aiming off is offered.`,
    );
  const turnedArcsec = steps.reduce((sum, { mean }) => sum + mean, 0);
  const spreadArcsec = Math.hypot(...steps.map(({ spread }) => spread ?? 0));
  const knownToArcsec = Math.hypot(
    ...steps.map(({ spread, jobs: n }) => (coverageFactor95(n - 1) * (spread ?? 0)) / Math.sqrt(n)),
  );
  const usually = `Tightening from ${stage} to tight usually turns it ${signed(turnedArcsec)} ± ${angle(spreadArcsec)} (${jobs} jobs)`;
  if (Math.abs(turnedArcsec) <= knownToArcsec)
    return none(`${usually}: no way is usual, so there is nothing to aim off for.`);
  if (limitArcsec !== null && Math.abs(turnedArcsec) < LEAST_SHARE_OF_LIMIT * limitArcsec)
    return none(`${usually}: less than a tenth of the limit, not worth aiming off for.`);
  return {
    aim: {
      stage,
      arcsec: -turnedArcsec,
      spreadArcsec,
      jobs,
      words: `${usually}. Aim off by ${signed(-turnedArcsec)}?`,
    },
    whyNoAim: '',
  };
}

/** The way that most jobs went at each step; null: a step is missing. */
function stepsToTight(stage: Stage, shifts: readonly Shift[]): Shift[] | null {
  const steps: Shift[] = [];
  let at = stage;
  while (at !== 'tight') {
    const known = shifts.filter(({ from }) => from === at);
    const [usual] = known.toSorted(
      (a, b) => b.jobs - a.jobs || STAGES.indexOf(a.to) - STAGES.indexOf(b.to),
    );
    if (!usual) return null;
    steps.push(usual);
    at = usual.to;
  }
  return steps;
}

const angle = (arcsec: number) => formatAngle(radiansFromArcsec(Math.abs(arcsec)));

function signed(arcsec: number): string {
  return `${angle(arcsec)} ${arcsec > 0 ? 'counter-clockwise' : 'clockwise'}`;
}

const jobsText = (jobs: number) => (jobs === 1 ? 'one job' : `${jobs} jobs`);

function shiftWords(
  from: Stage,
  to: Stage,
  usual: Pick<Shift, 'mean' | 'spread' | 'jobs'>,
): string {
  const spread = usual.spread === null ? '' : ` ± ${angle(usual.spread)}`;
  return `From ${from} to ${to} it turns ${signed(usual.mean)}${spread} (${jobsText(usual.jobs)}).`;
}

function pivotWords(
  stage: Stage,
  end: 'left' | 'right',
  usual: Pick<Shift, 'mean' | 'spread' | 'jobs'>,
  unit: LengthUnit,
): string {
  const decimals = unit === 'in' ? 2 : 0;
  const length = (mm: number) => formatLength(Math.abs(mm), unit, { decimals });
  const spread = usual.spread === null ? '' : ` ± ${length(usual.spread)}`;
  const side = usual.mean < 0 ? 'left' : 'right';
  return `At ${stage}, tapped at the ${end} end, it turns ${length(usual.mean)}${spread} to the ${side} of the left clamp (${jobsText(usual.jobs)}).`;
}
