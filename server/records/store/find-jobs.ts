import type { JobRow, ProofQuery, SweepRow } from '@taptrue/protocol';
import type { Database, Row, Value } from './database.ts';
import { searchedBy } from './index-words.ts';

/** Jobs of one page of the list: a screen of them and a little more. */
export const JOBS_OF_A_PAGE = 30;
/** Sweeps told with each; the rest are a press away. */
export const SWEEPS_OF_A_ROW = 6;

/** A row as the store knows it; which job is running only the bench knows. */
export type KeptJob = Omit<JobRow, 'running'>;

export interface FoundJobs {
  jobs: KeptJob[];
  next: string | null;
  inBin: number;
  emptied: number;
}

export const JOB_COLUMNS = `job.id, job.key, job.number, job.bench, job.started_at, job.last_at, job.is_simulated,
  job.origin, job.card, job.sweeps, job.verdict, job.signatures, job.binned_at`;

/** One page of the kept jobs, newest first, with their last sweeps. */
export function findJobs(db: Database, query: ProofQuery): FoundJobs {
  const { where, values } = conditionsOf(db, query);
  const rows = db.all(
    `SELECT ${JOB_COLUMNS} FROM job WHERE ${where.join(' AND ')}
     ORDER BY started_at DESC, id DESC LIMIT ${JOBS_OF_A_PAGE + 1}`,
    ...values,
  );
  const shown = rows.slice(0, JOBS_OF_A_PAGE);
  const last = shown.at(-1);
  return {
    jobs: shown.map((row) => keptJobOf(db, row)),
    next: rows.length > JOBS_OF_A_PAGE && last ? `${last.started_at}~${last.id}` : null,
    inBin: count(db, 'SELECT count(*) AS n FROM job WHERE binned_at IS NOT NULL'),
    emptied: count(db, 'SELECT count(*) AS n FROM tombstone'),
  };
}

/** Each condition is one that an index of its own serves, newest first (see the table `job`). */
function conditionsOf(db: Database, query: ProofQuery): { where: string[]; values: Value[] } {
  const where = [query.bin ? 'binned_at IS NOT NULL' : 'binned_at IS NULL'];
  const values: Value[] = [];
  const add = (condition: string, ...bound: Value[]) => {
    where.push(condition);
    values.push(...bound);
  };
  if (query.from !== undefined) add('started_at >= ?', query.from);
  if (query.to !== undefined) add('started_at < ?', query.to);
  if (query.machine) add('machine = ?', searchedBy(query.machine));
  if (query.operator) add('operator = ?', searchedBy(query.operator));
  if (query.verdict === 'none') add('verdict IS NULL');
  else if (query.verdict !== undefined) add('verdict = ?', query.verdict);
  if (query.number) addNumber(query.number, where[0]!, add);
  const words = wordsOf(query.text ?? '');
  if (words !== '') add(isFrequent(db, words) ? EACH_BY_ITSELF : ALL_THAT_MATCH, words);
  else if (query.text?.trim()) add('0');
  if (query.after !== undefined) {
    const [startedAt, id] = query.after.split('~');
    add('(started_at, id) < (?, ?)', startedAt!, Number(id));
  }
  return { where, values };
}

function addNumber(
  typed: string,
  inList: string,
  add: (condition: string, ...bound: Value[]) => void,
): void {
  const own = searchedBy(typed);
  // Everything that begins with what was typed lies between it and itself with the last character behind it.
  const range = [own, `${own}\u{10FFFF}`];
  if (/^\d{1,9}$/.test(own))
    add(
      `id IN (SELECT id FROM job WHERE number = ? AND ${inList}
              UNION SELECT id FROM job WHERE job_number >= ? AND job_number < ? AND ${inList})`,
      Number(own),
      ...range,
    );
  else add('job_number >= ? AND job_number < ?', ...range);
}

/**
 * Words that few jobs have: their jobs, then the newest of them. Words that many have: the newest jobs, each looked
 * up among those that have them (the plus keeps SQLite from fetching and sorting all of these first).
 */
const ALL_THAT_MATCH = 'id IN (SELECT rowid FROM job_text WHERE job_text MATCH ?)';
const EACH_BY_ITSELF = '+job.id IN (SELECT rowid FROM job_text WHERE job_text MATCH ?)';
const FREQUENT_JOBS = 1000;

function isFrequent(db: Database, words: string): boolean {
  const found = count(
    db,
    `SELECT count(*) AS n FROM (SELECT 1 FROM job_text WHERE job_text MATCH ? LIMIT ${FREQUENT_JOBS})`,
    words,
  );
  return found === FREQUENT_JOBS;
}

/** Each word by its beginning, all of them; '' where nothing of it can be looked up. */
function wordsOf(text: string): string {
  return text
    .split(/\s+/)
    .filter((word) => /[\p{L}\p{N}]/u.test(word))
    .map((word) => `"${word.replaceAll('"', '""')}"*`)
    .join(' ');
}

export function keptJobOf(db: Database, row: Row): KeptJob {
  const jobId = Number(row.id);
  return {
    key: String(row.key),
    number: Number(row.number),
    bench: String(row.bench),
    startedAt: String(row.started_at),
    lastAt: String(row.last_at),
    simulated: row.is_simulated === 1,
    origin: String(row.origin),
    card: JSON.parse(String(row.card)) as JobRow['card'],
    sweeps: Number(row.sweeps),
    last: db
      .all(
        `SELECT ${SWEEP_COLUMNS} FROM sweep WHERE job_id = ? ORDER BY number DESC LIMIT ${SWEEPS_OF_A_ROW}`,
        jobId,
      )
      .map(sweepRowOf),
    verdict: row.verdict as JobRow['verdict'],
    notes: count(
      db,
      'SELECT count(*) AS n FROM note WHERE job_id = ? AND struck_at IS NULL',
      jobId,
    ),
    tags: db
      .all('SELECT tag FROM tag WHERE job_id = ? ORDER BY tag', jobId)
      .map(({ tag }) => String(tag)),
    signatures: Number(row.signatures),
    binnedAt: row.binned_at === null ? null : String(row.binned_at),
  };
}

export const SWEEP_COLUMNS = `number, ended_at, stage, is_simulated, verdict, out_of_true_arcsec,
  uncertainty_arcsec, expanded_arcsec, end_to_end_mm, sentence, points, samples`;

export function sweepRowOf(row: Row): SweepRow {
  const numberOf = (value: Row[string] | undefined) =>
    value === null || value === undefined ? null : Number(value);
  return {
    number: Number(row.number),
    endedAt: String(row.ended_at),
    stage: row.stage as SweepRow['stage'],
    simulated: row.is_simulated === 1,
    verdict: row.verdict as SweepRow['verdict'],
    outOfTrueArcsec: numberOf(row.out_of_true_arcsec),
    standardUncertaintyArcsec: numberOf(row.uncertainty_arcsec),
    expandedArcsec: numberOf(row.expanded_arcsec),
    endToEndMm: numberOf(row.end_to_end_mm),
    sentence: String(row.sentence),
    picture: JSON.parse(String(row.points)) as SweepRow['picture'],
    samples: Number(row.samples),
  };
}

function count(db: Database, sql: string, ...values: Value[]): number {
  return Number(db.get(sql, ...values)?.n ?? 0);
}
