import {
  type BenchState,
  type RecordEntryOf,
  STAGES,
  type Stage,
  type SweepResult,
} from '@taptrue/protocol';
import { checkRecordings, type SignatureFound } from '../recording/check-recordings.ts';
import type { FileLine } from '../recording/lines-of-file.ts';
import type { Fingerprint } from '../recording/recording-hash.ts';

/** The last sweep of one stage, with what the bench makes of it by the setup as it stands at the end. */
export interface StageFacts {
  stage: Stage;
  ended: RecordEntryOf<'sweep ended'>;
  result: SweepResult;
  /** What tightening since the stage before turned; null: something else happened between. */
  shiftArcsec: number | null;
}

/** Everything that the one-page record of a job is printed from. */
export interface SheetFacts {
  opened: RecordEntryOf<'opened'>;
  /** How the bench stood at the end: setup, nudges, card, pivot. */
  state: BenchState;
  plan: RecordEntryOf<'plan used'> | null;
  stages: StageFacts[];
  final: StageFacts;
  sweeps: number;
  taps: number;
  /** Time of day of the last `opened`, `resumed`, `stopped`, `closed` or `signed`. */
  lastWallClock: string;
  timesTakenUp: number;
  signatures: (RecordEntryOf<'signed'> & { holds: boolean })[];
  /** Sweeps that were ended after the last signature. */
  sweepsSinceSigned: number;
  fingerprint: Fingerprint;
  /** Recorded results that do not come out of the readings again. */
  different: number;
  isSimulated: boolean;
}

/** Reads a job's recording for its page. Null where it has no sweep with a result, or cannot be read. */
export function sheetFacts(lines: Iterable<FileLine>): SheetFacts | null {
  const sweeps = new Map<number, RecordEntryOf<'sweep ended'>>();
  const signed: RecordEntryOf<'signed'>[] = [];
  let plan: RecordEntryOf<'plan used'> | null = null;
  let [ended, taps, timesTakenUp, sweepsSinceSigned] = [0, 0, 0, 0];
  let lastWallClock = '';
  let isSimulated = false;
  const hooks: Parameters<typeof checkRecordings>[1] = {
    onEntry: (entry) => {
      if ('wallClock' in entry && !isWriting(entry.entry)) lastWallClock = entry.wallClock;
      if (entry.entry === 'plan used') plan = entry;
      if (entry.entry === 'tap step') taps += 1;
      if (entry.entry === 'resumed') timesTakenUp += 1;
      if (entry.entry === 'signed') {
        signed.push(entry);
        sweepsSinceSigned = 0;
      }
      if (entry.entry !== 'sweep ended') return;
      ended += 1;
      sweepsSinceSigned += 1;
      isSimulated ||= entry.simulated;
      if (entry.result) keepLast(sweeps, entry);
    },
  };
  const [checked] = checkRecordings(lines, hooks);
  if (!checked?.opened || !checked.state) return null;
  const stages = stagesOf(sweeps, checked.state);
  const final = stages.reduce<StageFacts | null>(
    (last, one) => (last === null || one.ended.sweep > last.ended.sweep ? one : last),
    null,
  );
  if (final === null) return null;
  return {
    opened: checked.opened,
    state: checked.state,
    plan,
    stages,
    final,
    sweeps: ended,
    taps,
    lastWallClock,
    timesTakenUp,
    signatures: withHolds(signed, checked.signatures),
    sweepsSinceSigned,
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

/** The limit or the pivot may have been changed after the sweep: the bench's last word on it counts. */
function stagesOf(
  sweeps: Map<number, RecordEntryOf<'sweep ended'>>,
  { history }: BenchState,
): StageFacts[] {
  return [...sweeps.values()]
    .map((ended) => {
      const summary = history.sweeps.find(({ id }) => id === ended.sweep);
      return {
        stage: ended.stage,
        ended,
        result: summary?.result ?? ended.result!,
        shiftArcsec: summary?.shiftArcsec ?? null,
      };
    })
    .sort((a, b) => STAGES.indexOf(a.stage) - STAGES.indexOf(b.stage));
}

function withHolds(
  signed: readonly RecordEntryOf<'signed'>[],
  found: readonly SignatureFound[],
): (RecordEntryOf<'signed'> & { holds: boolean })[] {
  return signed.map((entry, index) => ({ ...entry, holds: found[index]?.holds ?? false }));
}
