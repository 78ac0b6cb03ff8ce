import { closeSync, mkdirSync, openSync, readdirSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { main } from '@taptrue/server/cli/main.ts';
import { keptSheet } from '@taptrue/server/records/sheet/print-record.ts';
import { openStore, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { describe, expect, test } from 'vitest';
import { keepIn, newFolder, shortJob } from '../exchange/a-job.ts';

let folder = '';
const file = () => join(folder, 'mill', STORE_FILE);

async function taptrue(...args: string[]) {
  const [out, err]: [string[], string[]] = [[], []];
  const terminal = {
    out: (text: string) => void out.push(text),
    err: (text: string) => void err.push(text),
  };
  const code = await main([...args, '--data', folder, '--name', 'mill'], terminal);
  return { code, out: out.join('\n'), err: err.join('\n') };
}

/** Two jobs; of the second the one piece does not open any more. */
function twoJobs(): void {
  folder = newFolder();
  mkdirSync(join(folder, 'mill'));
  const db = openStore(file());
  const { key, entries } = shortJob();
  keepIn(db, key, entries);
  const [opened, ...rest] = entries;
  if (opened?.entry !== 'opened') throw new Error('no beginning');
  const start = { ...opened.start, key: 'job-2', job: 2 };
  keepIn(db, 'job-2', [{ ...opened, start }, ...rest]);
  db.run(
    "UPDATE chunk SET body = zeroblob(40) WHERE job_id = (SELECT id FROM job WHERE key = 'job-2')",
  );
  db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  db.close();
}

describe('where a piece of one job is damaged', () => {
  test('verify names the job, tells the others, and exits with 1', async () => {
    twoJobs();
    const { code, out } = await taptrue('verify');
    expect(code).toBe(1);
    expect(out).toMatch(/A recording that could not be read \(job-2\)\n.*piece 1 is damaged/);
    expect(out).toContain('results come out of the readings again');
    expect(out).not.toContain('  0 results');
  });

  test('all others are given out, and the one is named', async () => {
    twoJobs();
    const to = join(folder, 'out');
    const { code, out, err } = await taptrue('export', '--all', '--out', to);
    expect(code).toBe(3);
    expect(readdirSync(to)).toHaveLength(1);
    expect(out).toContain('job-1');
    expect(err).toMatch(/^Job 2 \(job-2\): .*Z_.*taptrue verify/);
  });

  test('its page is refused in a sentence', async () => {
    twoJobs();
    const { code, err } = await taptrue('record', '--job', 'job-2');
    expect([code, err]).toEqual([3, expect.stringContaining('A piece of it is damaged')]);
    // The same through the page.
    const db = openStore(file());
    expect(keptSheet(db, { job: 'job-2', paper: 'a4', printedText: '' })).toMatchObject({
      ok: false,
      fault: { code: 'record-not-read', got: expect.stringContaining('job-2') },
    });
    db.close();
  });
});

/** SQLite's usual page has 4096 bytes; the first one is left, so that it still is a database. */
function losePages(): void {
  const handle = openSync(file(), 'r+');
  for (const page of [1, 2, 3, 5, 8])
    writeSync(handle, Buffer.alloc(4096, 0xa5), 0, 4096, page * 4096);
  closeSync(handle);
}

describe('where the disk lost pages of the file', () => {
  test('verify says so and exits with 1', async () => {
    twoJobs();
    losePages();
    const { code, out } = await taptrue('verify');
    expect([code, out]).toEqual([1, expect.stringContaining('the file is damaged')]);
  });

  test.each([[['export', '--all', '--out', 'none.jsonl']], [['record', '--job', '1']]])(
    '%j is refused in a sentence',
    async (args) => {
      twoJobs();
      losePages();
      const { code, err } = await taptrue(...args);
      expect([code, err]).toEqual([3, expect.stringContaining('SQLITE_CORRUPT')]);
      expect(err).toContain('taptrue restore');
    },
  );
});
