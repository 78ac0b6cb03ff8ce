/**
 * The list under Proof over 100,000 kept sweeps: how long its first page takes, asked of the thread that reads the
 * store, as the page asks it. The jobs are made from a seed: 20,000 of them over eight years, five sweeps each.
 */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ProofQuery } from '@taptrue/protocol';
import { appendAll } from '@taptrue/server/records/store/append.ts';
import { SWEEP_COLUMNS } from '@taptrue/server/records/store/find-jobs.ts';
import { openStore, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { StoreThread } from '@taptrue/server/records/store/store-thread.ts';
import { seededNoise } from '../../unit/measure/verdict/sweep-of.ts';
import { endedSweep, keptJob } from '../../unit/records/store/kept-jobs.ts';
import { type Row, tell, whole } from '../row.ts';

const JOBS = 20_000;
const SWEEPS_EACH = 5;
const JOBS_KEPT = 1000;
const SWEEP_COLUMNS_AFTER_JOB = `${SWEEP_COLUMNS}, from_ms, to_ms, body`;
const TIMES = 60;
/** What the page promises. */
const WITHIN_MS = 100;

const PARTS = ['wedge plate', 'bracket', 'housing', 'lever', 'flange', 'angle block', 'shoe'];
const HANDS = ['Ann', 'Bert', 'Chris', 'Dana', 'Eve', 'Finn'];
const STAGES = ['nipped', 'nipped', 'snug', 'tight', 'tight'] as const;
const FIRST_DAY_MS = Date.parse('2018-01-08T06:00:00Z');
const BETWEEN_JOBS_MS = (8 * 365 * 86_400_000) / JOBS;

const folder = mkdtempSync(join(tmpdir(), 'taptrue-proof-list-'));
const path = join(folder, STORE_FILE);
const startedAtMs = performance.now();
fill();
const filledS = (performance.now() - startedAtMs) / 1000;
const fileMb = statSync(path).size / 1e6;

/** The first jobs are kept as the service keeps them; the others are copies of them, earlier and of other numbers. */
function fill(): void {
  const db = openStore(path);
  const { uniform, normal } = seededNoise(11);
  const pick = <T>(of: readonly T[]): T => of[Math.floor(uniform() * of.length)]!;
  // Judged once each: what is measured here is finding, not fitting.
  const sweeps = Array.from({ length: 40 }, () =>
    STAGES.map((stage, index) =>
      endedSweep({ number: index + 1, stage, arcsec: normal() * (index < 2 ? 200 : 20) }),
    ),
  );
  appendAll(
    db,
    Array.from({ length: JOBS_KEPT }, (_, index) =>
      keptJob({
        key: `job-${index + 1}`,
        number: index + 1,
        startedAt: dayOf(index + 1),
        card: {
          jobNumber: `W-${String(index + 1).padStart(6, '0')}`,
          part: `${pick(PARTS)} ${whole(uniform() * 9000)}`,
          machine: `mill ${1 + Math.floor(uniform() * 8)}`,
          operator: pick(HANDS),
        },
        entries: [...pick(sweeps), { entry: 'closed', atMs: 400_000, wallClock: dayOf(index + 1) }],
      }),
    ),
  );
  for (let from = JOBS_KEPT; from < JOBS; from += JOBS_KEPT) {
    const days = (from * BETWEEN_JOBS_MS) / 86_400_000;
    db.inOne(() => {
      db.run(
        `INSERT INTO job (id, key, number, bench, started_at, last_at, is_open, is_simulated, card, sweeps,
           entries, job_number, machine, operator, verdict)
         SELECT id + ?1, 'job-' || (id + ?1), number + ?1, bench,
           strftime('%Y-%m-%dT%H:%M:%fZ', started_at, ?2), last_at, is_open, is_simulated, card, sweeps,
           entries, printf('w-%06d', number + ?1), machine, operator, verdict
         FROM job WHERE id <= ${JOBS_KEPT}`,
        from,
        `+${days.toFixed(4)} days`,
      );
      for (const [table, columns] of [
        ['sweep', SWEEP_COLUMNS_AFTER_JOB],
        ['chunk', 'seq, entries, readings, first_at_ms, last_at_ms, low_mm, high_mm, body'],
      ] as const)
        db.run(
          `INSERT INTO ${table} (job_id, ${columns}) SELECT job_id + ?, ${columns} FROM ${table} WHERE job_id <= ${JOBS_KEPT}`,
          from,
        );
      db.run(
        `INSERT INTO job_text (rowid, words) SELECT rowid + ?, words FROM job_text WHERE rowid <= ${JOBS_KEPT}`,
        from,
      );
    });
  }
  db.close();
}

function dayOf(number: number): string {
  return new Date(FIRST_DAY_MS + number * BETWEEN_JOBS_MS).toISOString();
}

const QUERIES: [string, ProofQuery][] = [
  ['newest jobs', {}],
  ['one month, seven years ago', { from: '2019-03-01T00:00:00Z', to: '2019-04-01T00:00:00Z' }],
  ['one machine', { machine: 'mill 3' }],
  ['one operator, true', { operator: 'Ann', verdict: 'true' }],
  ['too close to call', { verdict: 'too close to call' }],
  ['the shop’s number, beginning', { number: 'W-0123' }],
  ['the bench’s number', { number: '777' }],
  ['a word of a third of all cards', { text: 'brack' }],
  ['a word that every sentence has', { text: 'true' }],
  ['two words that hardly any has', { text: 'shoe 8,999' }],
  ['a word that none has', { text: 'zebra' }],
  ['word, machine and verdict', { text: 'wedge', machine: 'mill 5', verdict: 'not true' }],
  ['page 300 of all', { after: `${dayOf(11_000)}~11000` }],
];

const read = StoreThread.toRead(path);
// The thread starts and opens the file with its first question; a service does so when it starts.
await read.do('findJobs', {});
const rows: Row[] = [];
let slowestMs = 0;
for (const [what, query] of QUERIES) {
  const tookMs: number[] = [];
  let found = 0;
  for (let time = 0; time < TIMES; time += 1) {
    const atMs = performance.now();
    const page = await read.do('findJobs', query);
    tookMs.push(performance.now() - atMs);
    found = page.jobs.length;
  }
  tookMs.sort((a, b) => a - b);
  const p99 = tookMs[Math.floor(TIMES * 0.99)]!;
  slowestMs = Math.max(slowestMs, p99);
  rows.push({
    what: `${what}: ms for the first page, p50`,
    value: tookMs[TIMES / 2]!.toFixed(1),
    beside: `p99 ${p99.toFixed(1)}; ${found} jobs with their sweeps`,
  });
}
await read.close();
rmSync(folder, { recursive: true });
tell({
  title: `The list under Proof, ${whole(JOBS * SWEEPS_EACH)} sweeps of ${whole(JOBS)} jobs`,
  rows,
  notes: [
    `Slowest p99 ${slowestMs.toFixed(1)} ms; promised are ${WITHIN_MS} ms.`,
    `The store is ${fileMb.toFixed(0)} MB, filled in ${filledS.toFixed(0)} s.`,
  ],
});
