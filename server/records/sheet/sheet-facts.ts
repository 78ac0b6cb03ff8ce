import {
  type BenchState,
  type RecordEntryOf,
  type SetUpKept,
  STAGES,
  type Stage,
  type SweepResult,
} from '@taptrue/protocol';
import { stylusFactorOf } from '../../bench/sweep-input-of.ts';
import { surfacePerReading } from '../../measure/verdict/surface.ts';
import { checkRecordings } from '../exchange/check-recordings.ts';
import type { FileLine } from '../exchange/lines-of-file.ts';
import type { Fingerprint } from '../exchange/recording-hash.ts';
import { SinceSigned } from './since-signed.ts';

/** The last sweep of one stage, with what the bench makes of it by the setup as it stands at the end. */
export interface StageFacts {
  stage: Stage;
  ended: RecordEntryOf<'sweep ended'>;
  result: SweepResult;
  /** Surface per reading that goes with `result`, signed. */
  surfacePerReading: number;
  /** The setup was changed after it ended, and it says something else than was recorded then. */
  isJudgedAnew: boolean;
  /** What tightening since the stage before turned; null: something else happened between. */
  shiftArcsec: number | null;
}

/** A signature, whether its fingerprint fits, and what was done after it, in words; empty: nothing. */
export type SignatureFacts = RecordEntryOf<'signed'> & { holds: boolean; since: string[] };

/** Everything that the one-page record of a job is printed from. */
export interface SheetFacts {
  opened: RecordEntryOf<'opened'>;
  /** How the bench stood at the end: setup, nudges, card, pivot. */
  state: BenchState;
  plan: RecordEntryOf<'plan used'> | null;
  /** That plan was taken after the last sweep with a result. */
  isPlannedLater: boolean;
  stages: StageFacts[];
  final: StageFacts;
  /** Other set-ups of the job as they were kept, of each the last. */
  setUps: SetUpKept[];
  sweeps: number;
  taps: number;
  /** Time of day of the last `opened`, `resumed`, `stopped`, `closed` or `signed`. */
  lastWallClock: string;
  timesTakenUp: number;
  signatures: SignatureFacts[];
  /** Why the last sweep no longer says how the vise lies, in words; empty: it does. */
  outdated: string;
  fingerprint: Fingerprint;
  /** Recorded results that do not come out of the readings again. */
  different: number;
  isSimulated: boolean;
}

/** Judged once all was read: the page is then whole, and says so itself. */
const JUDGED_AT_THE_END = ['recording-not-recomputed', 'signature-not-true'];

/**
 * Reads a job's recording for its page. Null where it has no sweep with a result.
 * @throws RecordingRefused where it cannot be read to its end: an earlier sweep would pass for the last one.
 */
export function sheetFacts(lines: Iterable<FileLine>): SheetFacts | null {
  const sweeps = new Map<number, RecordEntryOf<'sweep ended'>>();
  const signed: { entry: RecordEntryOf<'signed'>; since: SinceSigned }[] = [];
  const setUps = new Map<string, SetUpKept>();
  let plan: RecordEntryOf<'plan used'> | null = null;
  let [ended, taps, timesTakenUp] = [0, 0, 0];
  let lastWallClock = '';
  let isSimulated = false;
  let isPlannedLater = false;
  const hooks: Parameters<typeof checkRecordings>[1] = {
    onEntry: (entry) => {
      if ('wallClock' in entry && !isWriting(entry.entry)) lastWallClock = entry.wallClock;
      if (entry.entry === 'plan used') {
        plan = entry;
        isPlannedLater = true;
      }
      if (entry.entry === 'set-up kept')
        setUps.set(`${entry.kept.name} ${entry.kept.plane} ${entry.kept.axis}`, entry.kept);
      if (entry.entry === 'tap step') taps += 1;
      if (entry.entry === 'resumed') timesTakenUp += 1;
      for (const { since } of signed) since.push(entry);
      if (entry.entry === 'signed') signed.push({ entry, since: new SinceSigned() });
      if (entry.entry !== 'sweep ended') return;
      ended += 1;
      isSimulated ||= entry.simulated;
      if (!entry.result) return;
      keepLast(sweeps, entry);
      isPlannedLater = false;
    },
  };
  const [checked] = checkRecordings(lines, hooks);
  if (checked?.refused && !JUDGED_AT_THE_END.includes(checked.refused.fault.code))
    throw checked.refused;
  if (!checked?.opened || !checked.state) return null;
  const stages = stagesOf(sweeps, checked.state);
  const final = stages.reduce<StageFacts | null>(
    (last, one) => (last === null || one.ended.sweep > last.ended.sweep ? one : last),
    null,
  );
  if (final === null) return null;
  return {
    opened: checked.opened,
    state: stateAsMeasured(checked.state, final),
    plan,
    isPlannedLater,
    stages,
    final,
    setUps: [...setUps.values()],
    sweeps: ended,
    taps,
    lastWallClock,
    timesTakenUp,
    signatures: signed.map(({ entry, since }, index) => ({
      ...entry,
      holds: checked.signatures[index]?.holds ?? false,
      since: since.words,
    })),
    outdated: outdatedIn(checked.state, final),
    fingerprint: checked.fingerprint,
    different: checked.recomputation?.different ?? 0,
    isSimulated: isSimulated || checked.opened.simulated,
  };
}

function isWriting(entry: string): boolean {
  return entry === 'note' || entry === 'note struck out' || entry === 'tagged';
}

/** Of each stage the last one only: a page holds four. */
function keepLast(
  sweeps: Map<number, RecordEntryOf<'sweep ended'>>,
  ended: RecordEntryOf<'sweep ended'>,
): void {
  for (const [number, { stage }] of sweeps) if (stage === ended.stage) sweeps.delete(number);
  sweeps.set(ended.sweep, ended);
}

/** Another mallet or pivot changes the advice only, which is not on the page. */
const ON_PAPER = [
  'verdict',
  'deviationArcsec',
  'outOfTrueArcsecExpanded',
  'limitArcsec',
  'decisionRule',
] as const satisfies (keyof SweepResult)[];

/** The limit or the pivot may have been changed after the sweep: the bench's last word on it counts. */
function stagesOf(
  sweeps: Map<number, RecordEntryOf<'sweep ended'>>,
  { history, setup }: BenchState,
): StageFacts[] {
  return [...sweeps.values()]
    .map((ended) => {
      const summary = history.sweeps.find(({ id }) => id === ended.sweep);
      const result = summary?.result ?? ended.result!;
      const isJudgedAnew = ON_PAPER.some((figure) => result[figure] !== ended.result![figure]);
      return {
        stage: ended.stage,
        ended,
        result,
        surfacePerReading: isJudgedAnew
          ? surfacePerReading(setup.rises, stylusFactorOf(setup))
          : ended.surfacePerReading,
        isJudgedAnew,
        shiftArcsec: summary?.shiftArcsec ?? null,
      };
    })
    .sort((a, b) => STAGES.indexOf(a.stage) - STAGES.indexOf(b.stage));
}

/** The page prints the axis, limit and bar that the last sweep was measured under, whatever was set after it. */
function stateAsMeasured(state: BenchState, { ended }: StageFacts): BenchState {
  const under = state.history.sweeps.find(({ id }) => id === ended.sweep)?.under;
  return under ? { ...state, setup: { ...state.setup, ...under } } : state;
}

/** The vise was tapped or its clamps were changed since, or it is being swept again. */
function outdatedIn({ sweep }: BenchState, { ended }: StageFacts): string {
  if (sweep === null) return '';
  if (sweep.state === 'being taken') return 'Another sweep has begun since and is not ended.';
  return sweep.id === ended.sweep ? sweep.outdated : '';
}
