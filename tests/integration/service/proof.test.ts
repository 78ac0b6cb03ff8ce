import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import {
  Comparison,
  checkerOf,
  Drift,
  JobDetail,
  Learned,
  ProofNames,
  ProofPage,
} from '@taptrue/protocol';
import { recompute } from '@taptrue/server/records/journal/recompute.ts';
import type Type from 'typebox';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { command, listening, must, newFolder, recordsIn } from './running-service.ts';

let folder = '';
beforeEach(async () => {
  folder = await newFolder();
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** What is answered, in its schema. */
async function asked<S extends Type.TSchema>(
  port: number,
  schema: S,
  path: string,
): Promise<Type.Static<S>> {
  const response = await fetch(`http://127.0.0.1:${port}/api/proof/${path}`);
  const checked = checkerOf(schema).parse(await response.text());
  if (!checked.ok) throw new Error(`${path}: ${checked.why}`);
  return checked.value;
}

const jobs = async (port: number, query = '') =>
  (await asked(port, ProofPage, `jobs?${query}`)).jobs;

async function sweep(port: number, keyed: readonly string[]): Promise<void> {
  await must(port, { kind: 'begin sweep' });
  for (const one of keyed) await must(port, { kind: 'take station', keyed: one });
}

async function measured(port: number, jobNumber: string): Promise<void> {
  await must(port, { kind: 'change setup', change: { rises: 'toward', stationsMm: [0, 60, 127] } });
  await must(port, {
    kind: 'change card',
    change: { jobNumber, machine: 'Mill 2', operator: 'Ann' },
  });
  await sweep(port, ['0', '-0.0009', '-0.002']);
  await must(port, { kind: 'park', xMm: 127, keyed: '-0.002' });
  await must(port, { kind: 'tap reading', keyed: '0' });
  await sweep(port, ['0.0001', '0.0001', '0']);
  await sweep(port, ['0.0001', '0.0001', '0.0001']);
}

describe('a running service', () => {
  test('finds, opens and compares what it has just measured', async () => {
    const { port, stop } = await listening({ dataFolder: folder });
    await measured(port, 'W-7');
    const [job] = await jobs(port, 'text=w-7');
    expect(job).toMatchObject({ number: 1, running: true, sweeps: 3, verdict: 'true' });
    const detail = await asked(port, JobDetail, `jobs/${job!.key}`);
    expect(detail.all.map(({ number }) => number)).toEqual([3, 2, 1]);
    expect(detail.all[2]!.taps).toMatchObject([{ number: 1, effect: 'closer' }]);
    expect(detail.all[1]!.turn).toMatchObject({ before: 1, tapped: 'right' });
    expect(detail.repeats).toMatchObject([{ sweeps: [2, 3], enough: false }]);
    const names = [1, 2].map((number) => `${job!.key}:${number}`).join(',');
    const compared = await asked(port, Comparison, `compare?sweeps=${names}`);
    expect(compared.differences[0]!.words).toContain('tapped at the right end');
    expect(await asked(port, ProofNames, 'names')).toEqual({
      machines: ['Mill 2'],
      operators: ['Ann'],
    });
    const learned = await asked(port, Learned, 'learned');
    expect(learned).toMatchObject({ machine: 'Mill 2', aim: null, shifts: [] });
    expect(learned.pivots).toMatchObject([{ stage: 'nipped', end: 'right', jobs: 1 }]);
    expect((await asked(port, Drift, 'drift?machine=Mill%202')).points).toEqual([]);
    await stop();
  });

  test('takes notes on the running job and on closed ones, and the record still comes out the same', async () => {
    const first = await listening({ dataFolder: folder });
    await measured(first.port, 'W-1');
    const [one] = await jobs(first.port);
    const job = one!.key;
    const note = { kind: 'write note', job, sweep: null, by: 'A. B.' } as const;
    await must(first.port, { ...note, sweep: 2, text: 'while it runs' });
    await sweep(first.port, ['0.0001', '0.0001', '0.0001']);
    await must(first.port, { kind: 'new job' });
    await must(first.port, { ...note, text: 'once it was closed' });
    await must(first.port, { kind: 'tag job', job, tag: 'First Piece', on: true, by: '' });
    await must(first.port, { kind: 'strike note', job, number: 1, by: 'C.', why: 'other sweep' });
    await first.stop();

    const second = await listening({ dataFolder: folder });
    await must(second.port, { ...note, text: 'after a restart' });
    const detail = await asked(second.port, JobDetail, `jobs/${job}`);
    expect(detail.notesOf.map(({ number, text, struck }) => [number, text, struck?.by])).toEqual([
      [1, 'while it runs', 'C.'],
      [2, 'once it was closed', undefined],
      [3, 'after a restart', undefined],
    ]);
    expect(detail.tags).toEqual(['first piece']);
    expect(detail.running).toBe(false);
    await second.stop();
    const [record] = await recordsIn(join(folder, 'mill'));
    const [opened, ...rest] = record!;
    if (opened?.entry !== 'opened') throw new Error('no beginning');
    expect(recompute(opened, rest).differences).toEqual([]);
    expect(record!.filter(({ entry }) => entry === 'note')).toHaveLength(3);
    const times = record!.map(({ atMs }) => atMs);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  test('a job that was taken up again after notes goes on behind them', async () => {
    const first = await listening({ dataFolder: folder });
    await measured(first.port, 'W-1');
    const job = (await jobs(first.port))[0]!.key;
    await must(first.port, { kind: 'write note', job, sweep: null, by: 'A', text: 'one' });
    await first.stop();
    const second = await listening({ dataFolder: folder });
    await must(second.port, { kind: 'write note', job, sweep: null, by: 'A', text: 'two' });
    await sweep(second.port, ['0.0001', '0.0001', '0.0001']);
    const detail = await asked(second.port, JobDetail, `jobs/${job}`);
    expect(detail).toMatchObject({
      running: true,
      sweeps: 4,
      notesOf: [{ number: 1 }, { number: 2 }],
    });
    await second.stop();
  });

  test('never bins the running job; a binned one comes back, or is deleted and leaves its tombstone', async () => {
    const { port, stop } = await listening({ dataFolder: folder });
    await measured(port, 'W-1');
    const { key } = (await jobs(port))[0]!;
    expect(await command(port, { kind: 'bin jobs', jobs: [key] })).toMatchObject({
      fault: { code: 'job-running' },
    });
    await must(port, { kind: 'new job' });
    await must(port, { kind: 'bin jobs', jobs: [key] });
    expect((await jobs(port)).map((job) => job.key)).not.toContain(key);
    await must(port, { kind: 'restore jobs', jobs: [key] });
    expect((await jobs(port)).map((job) => job.key)).toContain(key);
    await must(port, { kind: 'bin jobs', jobs: [key] });
    const answer = await command(port, { kind: 'empty bin' });
    expect(answer).toMatchObject({ ok: true, note: expect.stringContaining('a tombstone') });
    expect(await asked(port, ProofPage, 'jobs?bin=yes')).toMatchObject({ jobs: [], emptied: 1 });
    const gone = await fetch(`http://127.0.0.1:${port}/api/proof/jobs/${key}`);
    expect([gone.status, await gone.json()]).toMatchObject([
      404,
      { fault: { code: 'job-not-kept' } },
    ]);
    await stop();
  });
});

describe('what cannot be answered or written is refused in words', () => {
  let shared: Awaited<ReturnType<typeof listening>>;
  beforeAll(async () => {
    shared = await listening();
    // The record is on the disk once a command is answered.
    await must(shared.port, { kind: 'begin sweep' });
  });
  afterAll(() => shared.clear());

  test.each([
    ['of a job that is not kept', { job: 'none', sweep: null, by: 'A', text: 'x' }, 'job-not-kept'],
    ['of a sweep that is not kept', { job: '', sweep: 9, by: 'A', text: 'x' }, 'sweep-not-kept'],
    ['of nobody', { job: '', sweep: null, by: ' ', text: 'x' }, 'note-empty'],
    ['of blanks', { job: '', sweep: null, by: 'A', text: '  ' }, 'note-empty'],
  ])('refuses a note %s', async (_case, note, code) => {
    const { port } = shared;
    const { key } = (await jobs(port))[0]!;
    const answer = await command(port, { kind: 'write note', ...note, job: note.job || key });
    expect(answer).toMatchObject({ ok: false, fault: { code } });
  });

  test.each([
    ['jobs?verdict=perhaps', 400, 'message-not-understood'],
    ['jobs?after=x', 400, 'message-not-understood'],
    ['jobs?colour=red', 400, 'message-not-understood'],
    ['compare', 404, 'sweep-not-kept'],
    ['compare?sweeps=a:1', 404, 'sweep-not-kept'],
    ['compare?sweeps=a:1,b:2', 404, 'sweep-not-kept'],
    [`jobs/${'x'.repeat(90)}`, 404, 'job-not-kept'],
    ['jobs/..%2f..%2fetc', 404, 'job-not-kept'],
  ])('answers %s with a fault in words', async (path, status, code) => {
    const response = await fetch(`http://127.0.0.1:${shared.port}/api/proof/${path}`);
    expect([response.status, await response.json()]).toMatchObject([status, { fault: { code } }]);
  });
});
