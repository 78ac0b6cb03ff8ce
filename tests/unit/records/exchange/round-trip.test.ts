import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { PieceMaker } from '@taptrue/server/records/exchange/batches-of-lines.ts';
import { importRecordings } from '@taptrue/server/records/exchange/import-recordings.ts';
import { linesOfFile } from '@taptrue/server/records/exchange/lines-of-file.ts';
import {
  fingerprintOf,
  storedRecording,
} from '@taptrue/server/records/exchange/stored-recording.ts';
import { storedSweepCsv } from '@taptrue/server/records/exchange/stored-sweep.ts';
import { tellAgain } from '@taptrue/server/records/exchange/told-again.ts';
import { fileWrong, verifyStore } from '@taptrue/server/records/exchange/verify-store.ts';
import { appendAll } from '@taptrue/server/records/store/append.ts';
import { openStoreToRead, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { whereItStood } from '@taptrue/server/records/store/read-record.ts';
import { describe, expect, test } from 'vitest';
import { keepIn, newFolder, newStore, recordingOf, shortJob } from './a-job.ts';

function given() {
  const { key, entries } = shortJob();
  const db = newStore();
  keepIn(db, key, entries);
  const folder = newFolder();
  const file = join(folder, 'job.jsonl');
  const text = recordingOf(db, key);
  writeFileSync(file, text);
  return { key, entries, db, folder, file, text };
}

describe('a job that is given out and taken in elsewhere', () => {
  test('is given out again from there byte for byte, and says the same to the last digit', () => {
    const { key, file, text, entries } = given();
    const there = newStore();
    expect(importRecordings(there, file)).toMatchObject([
      { job: key, number: 1, outcome: 'taken in', entries: entries.length, fault: null },
    ]);
    expect(recordingOf(there, key)).toBe(text);
    const [told] = [...tellAgain(linesOfFile(file))];
    expect(told).toMatchObject({ different: 0, refused: null, number: 1 });
    expect(told!.sweeps.map(({ recorded, recomputed }) => [recorded, recomputed])).toEqual(
      told!.sweeps.map(({ recorded }) => [recorded, recorded]),
    );
    expect(told!.sweeps).toHaveLength(2);
  });

  test('is marked, is found in the list, and is never taken up as the job that is going on', () => {
    const { key, file } = given();
    const there = newStore();
    importRecordings(there, file);
    expect(there.all('SELECT key, origin, is_open, sweeps FROM job')).toEqual([
      { key, origin: 'a recording', is_open: 0, sweeps: 2 },
    ]);
    expect(whereItStood(there)).toMatchObject({ openJob: null, jobs: 0 });
  });

  test('is passed over where it is already, whole or in part', () => {
    const { db, key, file, folder } = given();
    expect(importRecordings(db, file)).toMatchObject([{ outcome: 'here already' }]);
    const part = join(folder, 'part.jsonl');
    writeFileSync(part, [...storedRecording(db, key, 1)].join(''));
    const there = newStore();
    importRecordings(there, file);
    expect(importRecordings(there, part)).toMatchObject([{ outcome: 'here already' }]);
    expect(fingerprintOf(there, key)).toEqual(fingerprintOf(db, key));
  });

  test('that was taken in before it was over is gone on with', () => {
    const { db, key, file, folder, text } = given();
    const part = join(folder, 'part.jsonl');
    writeFileSync(part, [...storedRecording(db, key, 1)].join(''));
    const there = newStore();
    expect(importRecordings(there, part)).toMatchObject([{ outcome: 'taken in' }]);
    expect(there.get('SELECT sweeps FROM job')).toEqual({ sweeps: 1 });
    expect(importRecordings(there, file)).toMatchObject([{ outcome: 'gone on with' }]);
    expect(recordingOf(there, key)).toBe(text);
    expect([...verifyStore(there)].flatMap(({ wrong }) => wrong)).toEqual([]);
  });

  test('is refused with both fingerprints where another content has its key', () => {
    const { key, entries, file, db } = given();
    const there = newStore();
    const other = entries.filter(
      (entry) => entry.entry !== 'command' || entry.command.kind !== 'change card',
    );
    keepIn(there, key, other);
    const [refused] = importRecordings(there, file);
    expect(refused).toMatchObject({ outcome: 'refused', fault: { code: 'recording-other-here' } });
    expect(refused!.fault!.got).toContain(fingerprintOf(there, key)!.sha256);
    expect(refused!.fault!.got).toContain(fingerprintOf(db, key)!.sha256);
    expect(there.get('SELECT count(*) AS jobs FROM job')).toEqual({ jobs: 1 });
  });
});

test('a sweep alone is given out with what led to it, and its result comes out of that', () => {
  const { db, key, folder } = given();
  const file = join(folder, 'one.jsonl');
  writeFileSync(file, [...storedRecording(db, key, 1)].join(''));
  const [told] = [...tellAgain(linesOfFile(file))];
  expect(told).toMatchObject({ refused: null, different: 0 });
  expect(told!.sweeps.map(({ sweep }) => sweep)).toEqual([1]);
});

test('several jobs in one file are each told and each taken in', () => {
  const { file, text, key } = given();
  const second = key.replace(/$/, '-b');
  writeFileSync(file, text + rekeyed(text, key, second) + text);
  const there = newStore();
  expect(
    importRecordings(there, file).map(({ job, outcome, line }) => [job, outcome, line]),
  ).toEqual([
    [key, 'taken in', null],
    // The end line of another text does not fit this one.
    [second, 'refused', 2 * text.split('\n').length - 2],
    [key, 'here already', null],
  ]);
});

function rekeyed(text: string, key: string, other: string): string {
  return text.replaceAll(`"${key}"`, `"${other}"`);
}

test('the points of a sweep are a table with its units in the header, a row a point', () => {
  const { db, key } = given();
  const [head, ...rows] = storedSweepCsv(db, key, 1).trimEnd().split('\r\n');
  const cells = rows.map((row) =>
    Object.fromEntries(row.split(',').map((cell, index) => [head!.split(',')[index]!, cell])),
  );
  expect(cells).toHaveLength(3);
  expect(cells.map(({ position_mm, pass }) => [position_mm, pass])).toEqual([
    ['0', 'out'],
    ['63.5', 'out'],
    ['127', 'out'],
  ]);
  for (const cell of cells) {
    // y = -r where the reading rises toward the operator; the distance to the line is what is left over.
    expect(Number(cell.surface_mm)).toBeCloseTo(-Number(cell.reading_mm), 12);
    const onLine =
      Number(cell.line_at_zero_mm) + Number(cell.line_slope) * Number(cell.position_mm);
    expect(Number(cell.off_line_mm)).toBeCloseTo(Number(cell.surface_mm) - onLine, 12);
  }
  // No slope was wanted: off the line wanted is out of true.
  expect(cells[2]!.off_wanted_arcsec).toBe(cells[2]!.out_of_true_arcsec);
  expect(cells[2]).toMatchObject({
    sweep: '1',
    stage: 'nipped',
    verdict: 'not true',
    simulated: 'no',
  });
});

describe('verifying a store', () => {
  test('finds nothing where nothing was touched', () => {
    const { db } = given();
    expect(fileWrong(db)).toEqual([]);
    expect([...verifyStore(db)]).toMatchObject([{ wrong: [], different: 0, refused: null }]);
  });

  test.each([
    [
      'a piece that was damaged',
      'UPDATE chunk SET body = zeroblob(40) WHERE seq = 1',
      /piece 1 is damaged/,
    ],
    ['a piece that is gone', 'DELETE FROM chunk WHERE seq = 1', /pieces 1 to 1 are missing/],
    [
      'a list that says otherwise',
      "UPDATE sweep SET verdict = 'true' WHERE number = 1",
      /otherwise of sweep 1/,
    ],
    ['a count that is wrong', 'UPDATE job SET readings = 5', /0 readings are kept where 5/],
  ])('names %s', (_case, harm, sentence) => {
    const { key, entries } = shortJob();
    const db = newStore();
    // Padded with ticks, so that there are two pieces.
    const ticks = Array.from({ length: 300 }, (_, at) => ({
      entry: 'tick' as const,
      atMs: entries[0]!.atMs + at / 1000,
    }));
    keepIn(db, key, [entries[0]!, ...ticks, ...entries.slice(1)]);
    db.exec(harm);
    const wrong = [...verifyStore(db)].flatMap((job) => [
      ...job.wrong,
      job.refused?.fault.what ?? '',
    ]);
    expect(wrong.join('\n')).toMatch(sentence);
  });

  test('takes nothing for damage that a running service adds meanwhile', () => {
    const folder = newFolder();
    const db = newStore(folder);
    const { key, entries } = shortJob();
    keepIn(db, key, entries);
    const { entries: others } = shortJob();
    const [opened, ...rest] = others;
    if (opened?.entry !== 'opened') throw new Error('no beginning');
    keepIn(db, 'job-2', [{ ...opened, start: { ...opened.start, key: 'job-2' } }]);
    const reader = openStoreToRead(join(folder, STORE_FILE));
    const jobs = verifyStore(reader);
    expect(jobs.next().value).toMatchObject({ job: key, wrong: [] });
    // While the first was looked through, the second went on.
    const maker = new PieceMaker('job-2', 1);
    for (const entry of rest) maker.add(JSON.stringify(entry), entry);
    appendAll(db, [maker.rest()!]);
    expect(jobs.next().value).toMatchObject({ job: 'job-2', wrong: [], refused: null });
    reader.close();
  });
});
