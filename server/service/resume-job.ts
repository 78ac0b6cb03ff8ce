import type { Fault, RecordEntry } from '@taptrue/protocol';
import type { JobJournal, Stood } from '../records/journal/job-journal.ts';
import { JobReplay, type ReplayOptions } from '../records/journal/job-replay.ts';

export interface TakenUp {
  replay: JobReplay;
  /** Time of the last entry by the recording's clock, ms. */
  lastAtMs: number;
  /** Time of day of the last `opened`, `resumed` or `stopped`, and that entry's own time. */
  clock: { atMs: number; wallClock: string };
}

/**
 * Tells a bench again what the record of the job that was going on says, so that it stands where it stood. Pieces
 * that hold nothing but readings are passed over while nothing is being taken: a day of an idle needle costs
 * nothing. Null where nothing was measured in that job: then a new one is begun.
 */
export async function resumeJob(
  room: JobJournal,
  stood: Stood,
  options: Omit<ReplayOptions, 'opened'>,
): Promise<TakenUp | null> {
  if (stood.openJob === null) return null;
  let taken: TakenUp | null = null;
  const matters = () => taken === null || taken.replay.readingsMatter;
  for await (const entry of room.entriesOf(
    stood.openJob,
    (onlyReadings) => !onlyReadings || matters(),
    room.write,
  )) {
    if (taken === null) {
      if (entry.entry !== 'opened') return null;
      const replay = new JobReplay({ ...options, opened: entry });
      taken = { replay, lastAtMs: entry.atMs, clock: entry };
      continue;
    }
    taken.replay.apply(entry);
    taken.lastAtMs = entry.atMs;
    if (isClock(entry)) taken.clock = { atMs: entry.atMs, wallClock: entry.wallClock };
  }
  return taken && isWorthTakingUp(options) ? taken : null;
}

function isClock(entry: RecordEntry): entry is Extract<RecordEntry, { wallClock: string }> {
  return entry.entry === 'opened' || entry.entry === 'resumed' || entry.entry === 'stopped';
}

function isWorthTakingUp({ store }: Pick<ReplayOptions, 'store'>): boolean {
  const { sweep, history, setUps } = store.state;
  if (setUps.kept.length > 0 || (setUps.chosen?.points.length ?? 0) > 0) return true;
  return history.sweeps.length > 0 || sweep?.state === 'being taken';
}

/** What the user is told of a job that goes on. */
export function jobTakenUp(options: Pick<ReplayOptions, 'store'>, awayMs: number): Fault {
  const { bench, sweep, history } = options.store.state;
  const inSweep =
    sweep?.state === 'being taken'
      ? `, sweep ${sweep.id} with ${sweep.samples} readings taken`
      : '';
  return {
    code: 'job-taken-up',
    what: `The service was ended and started again. Job ${bench.job.number} goes on where it stood.`,
    got: `${history.sweeps.length} sweeps kept${inSweep}; away for ${timeWords(awayMs)}`,
    remedy:
      'If vise, bar or indicator may have been touched meanwhile, sweep again. For another part, begin a new job.',
  };
}

/** The record of the job that was going on cannot be read: damaged on disk, or not as this program writes it. */
export function jobNotTakenUp(path: string, error: unknown): Fault {
  return {
    code: 'job-not-taken-up',
    what: 'The job that was going on could not be read back. A new one is begun; nothing of the old one is written over.',
    got: `${error instanceof Error ? error.message : error} in ${path}`,
    remedy:
      'Sweep again. Run taptrue verify to see what of the old record can be read, and bring back the last backup if it is needed.',
  };
}

function timeWords(ms: number): string {
  if (ms < 90_000) return `${Math.round(ms / 1000)} s`;
  if (ms < 90 * 60_000) return `${Math.round(ms / 60_000)} min`;
  return `${Math.round(ms / 3_600_000)} h`;
}
