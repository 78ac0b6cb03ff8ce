import type { TurnRow } from '@taptrue/protocol';
import { MEASURED_HERE } from './append.ts';
import type { Database } from './database.ts';
import { endedOf, turnOf } from './find-detail.ts';
import { searchedBy } from './index-words.ts';

/** Jobs looked back at: some two years of a busy bench. What a vise did before that is another vise. */
const MOST_JOBS = 500;

export interface OfVise {
  /** As on the card, small and large letters alike; '' where none was named. */
  machine: string;
  /** Simulated and real vises teach nothing of each other. */
  simulated: boolean;
}

/**
 * A machine that is named is the same one in a recording from elsewhere. One that nobody named is the one at this
 * bench only for what was measured here: another bench's nameless vise is another vise.
 */
const OF_VISE = `machine = ?1 AND binned_at IS NULL AND is_simulated = ?2
  AND (machine <> '' OR origin = '${MEASURED_HERE}')`;

/** A turn with the job it is from. */
export interface TurnOfJob extends TurnRow {
  job: number;
}

/** What lay between the sweeps of the last jobs of one vise, oldest job first. */
export function turnsOfVise(db: Database, vise: OfVise): TurnOfJob[] {
  return db
    .all(
      `SELECT turn.* FROM turn JOIN (
         SELECT id FROM job WHERE ${OF_VISE}
         ORDER BY started_at DESC, id DESC LIMIT ${MOST_JOBS}
       ) AS last ON last.id = turn.job_id ORDER BY turn.job_id, turn.after`,
      searchedBy(vise.machine),
      vise.simulated ? 1 : 0,
    )
    .map((row) => ({ ...turnOf(row), job: Number(row.job_id) }));
}

export interface FinalSweep {
  job: string;
  jobNumber: number;
  endedAt: string;
  /** Off the line wanted: a jaw swept to a slope on purpose has not drifted by that slope. */
  arcsec: number;
  expandedArcsec: number | null;
}

/** The last sweep at tight of each of the last jobs of one vise, oldest first. */
export function finalSweeps(db: Database, vise: OfVise): FinalSweep[] {
  return db
    .all(
      `SELECT job.key, job.number, sweep.ended_at, sweep.body, sweep.expanded_arcsec
       FROM (
         SELECT id, key, number FROM job
         WHERE ${OF_VISE}
         ORDER BY started_at DESC, id DESC LIMIT ${MOST_JOBS}
       ) AS job
       JOIN sweep ON sweep.job_id = job.id AND sweep.number = (
         SELECT max(number) FROM sweep AS other
         WHERE other.job_id = job.id AND other.stage = 'tight' AND other.out_of_true_arcsec IS NOT NULL
       )
       ORDER BY sweep.ended_at`,
      searchedBy(vise.machine),
      vise.simulated ? 1 : 0,
    )
    .map((row) => ({
      job: String(row.key),
      jobNumber: Number(row.number),
      endedAt: String(row.ended_at),
      arcsec: endedOf(row.body).result!.deviationArcsec,
      expandedArcsec: row.expanded_arcsec === null ? null : Number(row.expanded_arcsec),
    }));
}

/** Names offered to choose from; a shop has a few dozen of each. */
const MOST_NAMES = 100;

/** Machines and operators named on the cards, each once, as last written. */
export function proofNames(db: Database): { machines: string[]; operators: string[] } {
  const namesIn = (column: 'machine' | 'operator') =>
    db
      .all(
        `SELECT json_extract(card, '$.${column}') AS name, max(id) FROM job
         WHERE ${column} <> '' AND binned_at IS NULL
         GROUP BY ${column} ORDER BY ${column} LIMIT ${MOST_NAMES}`,
      )
      .map(({ name }) => String(name));
  return { machines: namesIn('machine'), operators: namesIn('operator') };
}
