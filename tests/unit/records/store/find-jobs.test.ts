import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkerOf, type ProofQuery, ProofQuery as Query } from '@taptrue/protocol';
import { addEntry } from '@taptrue/server/records/store/add-entry.ts';
import { append, appendAll } from '@taptrue/server/records/store/append.ts';
import { binJobs, emptyBin, restoreJobs } from '@taptrue/server/records/store/bin.ts';
import type { Database } from '@taptrue/server/records/store/database.ts';
import { jobDetail, noteFacts } from '@taptrue/server/records/store/find-detail.ts';
import {
  findJobs,
  JOBS_OF_A_PAGE,
  SWEEPS_OF_A_ROW,
} from '@taptrue/server/records/store/find-jobs.ts';
import { proofNames } from '@taptrue/server/records/store/find-learned.ts';
import { openStore, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { chunkHeads, chunkLines } from '@taptrue/server/records/store/read-record.ts';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { endedSweep, keptJob } from './kept-jobs.ts';

let folder = '';
let db: Database;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'taptrue-find-'));
  db = openStore(join(folder, STORE_FILE));
});
afterEach(() => {
  db.close();
  rmSync(folder, { recursive: true });
});

const AT = '2026-11-25T10:00:00.000Z';
const note = (number: number, text: string, sweep: number | null = null) =>
  ({ entry: 'note', atMs: 0, number, sweep, wallClock: AT, by: 'A. B.', text }) as const;
const keys = (query: ProofQuery) => findJobs(db, query).jobs.map(({ key }) => key);

/** Four jobs, a day apart: three machines on the cards, three ways to end. */
function fourJobs(): void {
  const day = (n: number) => `2026-03-0${n}T08:00:00.000Z`;
  append(
    db,
    keptJob({
      key: 'first',
      number: 1,
      startedAt: day(1),
      card: {
        jobNumber: 'J-100',
        machine: 'Mill 1, old vise',
        operator: 'Ann',
        part: 'wedge plate',
      },
      entries: [endedSweep({ number: 1, arcsec: 200 }), endedSweep({ number: 2, arcsec: 2 })],
    }),
  );
  append(
    db,
    keptJob({
      key: 'second',
      number: 2,
      startedAt: day(2),
      card: { jobNumber: 'J-101', machine: 'mill 1, OLD vise', operator: 'Bert', part: 'bracket' },
      entries: [endedSweep({ number: 1, arcsec: 200 })],
    }),
  );
  append(
    db,
    keptJob({
      key: 'third',
      number: 3,
      startedAt: day(3),
      card: { jobNumber: '2', machine: 'Mill 2', operator: 'Ann', part: 'Größenlehre' },
      entries: [endedSweep({ number: 1, arcsec: 41.25 })],
    }),
  );
  append(db, keptJob({ key: 'fourth', number: 4, startedAt: day(4) }));
}

describe('kept jobs are found', () => {
  const CASES: [string, ProofQuery, string[]][] = [
    ['all of them, newest first', {}, ['fourth', 'third', 'second', 'first']],
    ['from a day on', { from: '2026-03-03T00:00:00.000Z' }, ['fourth', 'third']],
    ['before a day', { to: '2026-03-02T00:00:00.000Z' }, ['first']],
    ['by machine, however it is written', { machine: ' MILL 1,  old vise' }, ['second', 'first']],
    ['by operator', { operator: 'ann' }, ['third', 'first']],
    ['by how they ended', { verdict: 'true' }, ['first']],
    ['by how they ended, not true', { verdict: 'not true' }, ['second']],
    ['by how they ended, too close', { verdict: 'too close to call' }, ['third']],
    ['without a line', { verdict: 'none' }, ['fourth']],
    ['by the shop’s number, as it begins', { number: 'j-10' }, ['second', 'first']],
    ['by the bench’s number or the shop’s', { number: '2' }, ['third', 'second']],
    ['by words of the card, as they begin', { text: 'wedge pl' }, ['first']],
    ['by words with other letters', { text: 'grossen' }, []],
    ['by words without their marks', { text: 'größen' }, ['third']],
    ['by what a sweep said', { text: 'true within' }, ['first']],
    ['by two things at once', { operator: 'Ann', verdict: 'true' }, ['first']],
    ['by words that stand nowhere', { text: 'nothing' }, []],
    ['by marks that are no words', { text: '"* -' }, []],
    ['by quotes inside words', { text: 'wed"ge' }, []],
  ];

  test.each(CASES)('%s', (_case, query, wanted) => {
    fourJobs();
    expect(checkerOf(Query).check(query).ok).toBe(true);
    expect(keys(query)).toEqual(wanted);
  });

  test('a page at a time, none twice and none left out, also where many began at one moment', () => {
    const count = 2 * JOBS_OF_A_PAGE + 7;
    for (let number = 1; number <= count; number += 1)
      append(db, keptJob({ key: `job-${number}`, number }));
    const seen: string[] = [];
    let after: string | null = null;
    do {
      const page = findJobs(db, after === null ? {} : { after });
      seen.push(...page.jobs.map(({ key }) => key));
      after = page.next;
      if (after !== null) expect(checkerOf(Query).check({ after }).ok).toBe(true);
    } while (after !== null);
    expect(seen).toHaveLength(count);
    expect(new Set(seen).size).toBe(count);
  });

  test('by a word that more than a thousand have: the newest of them, not those in the bin', () => {
    const startedAt = (number: number) => new Date(Date.UTC(2026, 0, 1, 0, number)).toISOString();
    const many = Array.from({ length: 1100 }, (_, index) => {
      const number = index + 1;
      const card = { part: 'plate', operator: number % 2 ? 'Ann' : 'Bert' };
      return keptJob({ key: `job-${number}`, number, startedAt: startedAt(number), card });
    });
    // One from elsewhere, kept last and begun first.
    appendAll(db, [
      ...many,
      keptJob({ key: 'old', startedAt: '2020-01-01T00:00:00.000Z', card: { part: 'plate' } }),
    ]);
    binJobs(db, { jobs: ['job-1100'], at: AT });
    const newest = keys({ text: 'plat' });
    expect(newest).toEqual(Array.from({ length: JOBS_OF_A_PAGE }, (_, i) => `job-${1099 - i}`));
    expect(keys({ text: 'plat', operator: 'Bert' })[0]).toBe('job-1098');
    expect(keys({ text: 'plat', to: '2021-01-01T00:00:00.000Z' })).toEqual(['old']);
  });

  test('each with its card, its last sweeps and a small picture of each', () => {
    const sweeps = Array.from({ length: 8 }, (_, i) => endedSweep({ number: i + 1, arcsec: i }));
    append(db, keptJob({ key: 'long', card: { part: 'plate' }, entries: sweeps }));
    const [job] = findJobs(db, {}).jobs;
    expect(job).toMatchObject({ key: 'long', sweeps: 8, verdict: 'true', card: { part: 'plate' } });
    expect(job!.last.map(({ number }) => number)).toEqual(
      [8, 7, 6, 5, 4, 3].slice(0, SWEEPS_OF_A_ROW),
    );
    expect(job!.last[0]!.picture).toHaveLength(5);
    expect(job!.last[0]!.outOfTrueArcsec).toBeCloseTo(7, 0);
  });

  test('names on the cards are offered once, as they were last written', () => {
    fourJobs();
    expect(proofNames(db)).toEqual({
      machines: ['mill 1, OLD vise', 'Mill 2'],
      operators: ['Ann', 'Bert'],
    });
  });
});

describe('notes and tags', () => {
  test('are written behind a closed job, in the record and in the tables, and found by', () => {
    fourJobs();
    expect(addEntry(db, { job: 'first', entry: note(1, 'Burr on the jaw', 2) })).toBe(true);
    const tagged = { entry: 'tagged', atMs: 0, tag: 'first-off', on: true, wallClock: AT, by: '' };
    expect(addEntry(db, { job: 'first', entry: tagged as never })).toBe(true);
    expect(addEntry(db, { job: 'none', entry: note(1, 'x') })).toBe(false);
    expect(keys({ text: 'burr' })).toEqual(['first']);
    expect(keys({ text: 'first-o' })).toEqual(['first']);
    expect(chunkHeads(db, 'first').map(({ seq }) => seq)).toEqual([1, 2, 3]);
    const line = JSON.parse(chunkLines(db, { job: 'first', seq: 2 }));
    // The job's clock stands: the entry has the time of the last one and the time of day of its writing.
    expect(line).toMatchObject({ entry: 'note', atMs: 120_000, wallClock: AT, sweep: 2 });
    expect(noteFacts(db, 'first')).toEqual({ sweeps: [1, 2], lastNote: 1, standing: [1] });
  });

  test('a note that is struck out stays, and is no longer searched by', () => {
    fourJobs();
    addEntry(db, { job: 'first', entry: note(1, 'Wrong block') });
    const struck = {
      entry: 'note struck out',
      atMs: 0,
      number: 1,
      wallClock: AT,
      by: 'C',
      why: 'w',
    };
    addEntry(db, { job: 'first', entry: struck as never });
    expect(keys({ text: 'wrong' })).toEqual([]);
    expect(jobDetail(db, 'first')!.notesOf).toMatchObject([
      { number: 1, text: 'Wrong block', struck: { by: 'C', why: 'w' } },
    ]);
    expect(noteFacts(db, 'first')).toMatchObject({ lastNote: 1, standing: [] });
  });

  test('a tag is taken off again', () => {
    fourJobs();
    for (const on of [true, false]) {
      const tagged = { entry: 'tagged', atMs: 0, tag: 'keep', on, wallClock: AT, by: '' };
      addEntry(db, { job: 'second', entry: tagged as never });
      expect(findJobs(db, { text: 'bracket' }).jobs[0]!.tags).toEqual(on ? ['keep'] : []);
    }
  });
});

describe('the bin', () => {
  test('hides a job from the list, and gives it back as it was', () => {
    fourJobs();
    const before = findJobs(db, { text: 'wedge' }).jobs;
    expect(binJobs(db, { jobs: ['first', 'none'], at: AT })).toBe(1);
    expect(keys({})).toEqual(['fourth', 'third', 'second']);
    expect(keys({ bin: 'yes' })).toEqual(['first']);
    expect(findJobs(db, {}).inBin).toBe(1);
    expect(restoreJobs(db, { jobs: ['first'] })).toBe(1);
    expect(findJobs(db, { text: 'wedge' }).jobs).toEqual(before);
  });

  test('emptied, leaves a tombstone by which a copy of the lines can be known again', () => {
    fourJobs();
    addEntry(db, { job: 'first', entry: note(1, 'Burr') });
    const lines = chunkHeads(db, 'first').map(({ seq }) => chunkLines(db, { job: 'first', seq }));
    const sha256 = createHash('sha256').update(lines.join('')).digest('hex');
    binJobs(db, { jobs: ['first'], at: AT });
    expect(emptyBin(db, AT)).toEqual({ emptied: 1, signed: 0 });
    expect(jobDetail(db, 'first')).toBeNull();
    expect(keys({ text: 'burr' })).toEqual([]);
    for (const table of ['chunk', 'sweep', 'note', 'tag', 'tap', 'turn'])
      expect(db.all(`SELECT 1 FROM ${table} WHERE job_id = 1`)).toEqual([]);
    expect(db.all('SELECT * FROM tombstone')).toEqual([
      {
        key: 'first',
        number: 1,
        started_at: '2026-03-01T08:00:00.000Z',
        last_at: '2026-03-01T08:02:00.000Z',
        emptied_at: AT,
        sweeps: 2,
        entries: 4,
        sha256,
      },
    ]);
    expect(findJobs(db, {}).emptied).toBe(1);
  });

  test('emptied, keeps what is signed', () => {
    fourJobs();
    db.run("UPDATE job SET signatures = 1 WHERE key = 'second'");
    binJobs(db, { jobs: ['first', 'second'], at: AT });
    expect(emptyBin(db, AT)).toEqual({ emptied: 1, signed: 1 });
    expect(keys({ bin: 'yes' })).toEqual(['second']);
    expect(jobDetail(db, 'second')!.all).toHaveLength(1);
  });
});
