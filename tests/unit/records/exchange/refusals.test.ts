import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import { importRecordings } from '@taptrue/server/records/exchange/import-recordings.ts';
import { LONGEST_LINE_BYTES } from '@taptrue/server/records/exchange/lines-of-file.ts';
import { endLine, RecordingHash } from '@taptrue/server/records/exchange/recording-hash.ts';
import { findJobs } from '@taptrue/server/records/store/find-jobs.ts';
import { describe, expect, test } from 'vitest';
import { keepIn, newFolder, newStore, recordingOf, shortJob } from './a-job.ts';

const folderOf = () => join(newFolder(), 'file.jsonl');

let made: string[] | null = null;

/** A good recording of a short job, as lines without their ends. */
function good(): string[] {
  made ??= makeGood();
  return [...made];
}

function makeGood(): string[] {
  const db = newStore();
  const { key, entries } = shortJob();
  keepIn(db, key, entries);
  return recordingOf(db, key).trimEnd().split('\n');
}

/** The lines with an end line that fits them, whatever was done to them. */
function sealed(lines: readonly string[]): string[] {
  const hash = new RecordingHash();
  for (const line of lines.slice(0, -1)) hash.line(line);
  return [...lines.slice(0, -1), endLine(hash.fingerprint)];
}

function imported(content: string | Buffer) {
  const file = folderOf();
  writeFileSync(file, content);
  const db = newStore();
  const all = importRecordings(db, file);
  return { all, jobs: db.get('SELECT count(*) AS n FROM job')!.n };
}

/** What another version recorded is not held to come out again, only to fit the format. */
const ofAnother = (lines: readonly string[]) =>
  lines.map((line, at) =>
    at === 0
      ? line.replace(`"program":"${PROTOCOL_VERSION}"`, '"program":"9.9"')
      : at === 1
        ? line.replace(`"version":"${PROTOCOL_VERSION}"`, '"version":"9.9"')
        : line,
  );
const textOf = (lines: readonly string[]) => `${lines.join('\n')}\n`;
const find = (lines: readonly string[], begin: string) =>
  lines.findIndex((line) => line.startsWith(begin));
const changed = (lines: readonly string[], at: number, change: (line: string) => string) =>
  lines.map((line, index) => (index === at ? change(line) : line));

describe('a recording is refused, with the line and the reason, and nothing of it is kept', () => {
  test.each<[string, (lines: string[]) => string | Buffer, string, number | null]>([
    ['of an empty file', () => '', 'recording-not-ours', null],
    ['of a picture', () => Buffer.from('89504e470d0a1a0a00', 'hex'), 'recording-not-ours', 1],
    ['of a table', () => 'position_in,reading_in\n0,0\n', 'recording-not-ours', 1],
    ['of other JSON', () => '{"format":"something else"}\n', 'recording-not-ours', 1],
    [
      'of a newer format',
      (lines) =>
        textOf(changed(lines, 0, (line) => line.replace('"formatVersion":1', '"formatVersion":2'))),
      'recording-newer',
      1,
    ],
    [
      'of a newer format whose header is not known',
      () => '{"format":"taptrue recording","formatVersion":7,"new":{"deep":[1]}}\n',
      'recording-newer',
      1,
    ],
    [
      'whose key would leave a folder',
      (lines) =>
        textOf(
          changed(lines, 0, (line) => line.replace('"job":"job-1"', '"job":"../../etc/passwd"')),
        ),
      'recording-not-ours',
      1,
    ],
    [
      'that was cut off behind a line',
      (lines) => textOf(lines.slice(0, 6)),
      'recording-cut-off',
      6,
    ],
    [
      'that was cut off in a line',
      (lines) => textOf(lines).slice(0, -120),
      'recording-line-not-read',
      null,
    ],
    [
      'that lost a line',
      (lines) => textOf(lines.filter((_, at) => at !== 4)),
      'recording-damaged',
      null,
    ],
    [
      'in which one bit was flipped in a text',
      (lines) => textOf(lines).replace('Ann', 'Aon'),
      'recording-damaged',
      null,
    ],
    [
      'whose line is no JSON',
      (lines) => textOf(changed(lines, 2, (line) => line.slice(1))),
      'recording-line-not-read',
      3,
    ],
    [
      'whose line is not UTF-8',
      (lines) => {
        const bytes = Buffer.from(textOf(lines));
        bytes[bytes.indexOf('Ann')] = 0xff;
        return bytes;
      },
      'recording-line-not-read',
      null,
    ],
    [
      'that says a name twice, the second time otherwise',
      (lines) => textOf(sealed(changed(lines, 2, (line) => line.replace('{', '{"entry":"tick",')))),
      'recording-line-otherwise',
      3,
    ],
    [
      'that a mail program gave other line ends',
      (lines) => `${lines.join('\r\n')}\r\n`,
      'recording-line-otherwise',
      1,
    ],
    [
      'whose number is written otherwise',
      (lines) =>
        textOf(sealed(changed(lines, 2, (line) => line.replace('"atMs":1010', '"atMs":1.01e3')))),
      'recording-line-otherwise',
      3,
    ],
    [
      'with a number beyond all numbers',
      (lines) =>
        textOf(sealed(changed(lines, 2, (line) => line.replace('"atMs":1010', '"atMs":1e999')))),
      'recording-line-not-known',
      3,
    ],
    [
      'with an entry of its own',
      (lines) =>
        textOf(
          sealed([...lines.slice(0, 3), '{"entry":"run","atMs":1,"what":"rm"}', ...lines.slice(3)]),
        ),
      'recording-line-not-known',
      4,
    ],
    [
      'that reaches for the prototype',
      (lines) =>
        textOf(
          sealed([
            ...lines.slice(0, 3),
            '{"entry":"tick","atMs":2000,"__proto__":{"x":1}}',
            ...lines.slice(3),
          ]),
        ),
      'recording-line-not-known',
      4,
    ],
    [
      'nested a hundred thousand deep',
      (lines) =>
        textOf([...lines.slice(0, 3), `${'['.repeat(1e5)}${']'.repeat(1e5)}`, ...lines.slice(3)]),
      'recording-line-not-known',
      4,
    ],
    [
      'whose job begins twice',
      (lines) => textOf(sealed([...lines.slice(0, 3), lines[1]!, ...lines.slice(3)])),
      'recording-out-of-place',
      4,
    ],
    [
      'that has no beginning',
      (lines) => textOf(sealed(lines.filter((_, at) => at !== 1))),
      'recording-out-of-place',
      2,
    ],
    [
      'whose header is of another job',
      (lines) => textOf(sealed(changed(lines, 0, (line) => line.replace('job-1', 'job-2')))),
      'recording-out-of-place',
      2,
    ],
    [
      'whose clock goes back',
      (lines) =>
        textOf(sealed([...lines.slice(0, -1), '{"entry":"tick","atMs":-5000}', lines.at(-1)!])),
      'recording-out-of-order',
      null,
    ],
    ...(
      [
        ['with a time of day that is none', '"wallClock":""', '"wallClock":"<b>soon</b>"'],
        ['with a number nothing can be reckoned with', '"job":1,', '"job":1e+300,'],
      ] as const
    ).map(([what, from, to]): [string, (lines: string[]) => string, string, number] => [
      what,
      (lines) => textOf(sealed(changed(lines, 1, (line) => line.replace(from, to)))),
      'recording-line-not-known',
      2,
    ]),
    [
      'of another version with a sweep that was never counted',
      (lines) =>
        textOf(sealed(ofAnother(lines).map((line) => line.replace('"sweep":2,', '"sweep":-5,')))),
      'recording-line-not-known',
      null,
    ],
    [
      'of another version with readings beyond all reason',
      (lines) =>
        textOf(
          sealed(
            ofAnother(lines).map((line) =>
              line.replace('"surfacePerReading":-1', '"surfacePerReading":-1e+308'),
            ),
          ),
        ),
      'recording-line-not-known',
      null,
    ],
    [
      'whose verdict was touched up, end line and all',
      (lines) =>
        textOf(
          sealed(lines.map((line) => line.replaceAll('"verdict":"not true"', '"verdict":"true"'))),
        ),
      'recording-not-recomputed',
      null,
    ],
    [
      'in which a reading was touched up, end line and all',
      (lines) =>
        textOf(
          sealed(
            changed(lines, find(lines, '{"entry":"station"'), (line) =>
              line.replace('"readingMm":0', '"readingMm":0.0254'),
            ),
          ),
        ),
      'recording-not-recomputed',
      null,
    ],
  ])('%s', (_case, harm, code, line) => {
    const { all, jobs } = imported(harm(good()));
    expect(all).toMatchObject([{ outcome: 'refused', fault: { code } }]);
    if (line !== null) expect(all[0]!.line).toBe(line);
    expect(all[0]!.fault!.remedy).not.toBe('');
    expect(jobs).toBe(0);
  });

  test('a line without an end, however long the file', () => {
    const { all, jobs } = imported(Buffer.alloc(LONGEST_LINE_BYTES + 1, 0x61));
    expect(all).toMatchObject([{ outcome: 'refused', fault: { code: 'recording-line-too-long' } }]);
    expect(jobs).toBe(0);
  });
});

test('a clock no calendar knows is no reason to break off in the middle: the sweep has the time the job was begun', () => {
  const began = '2026-11-25T08:00:00.000Z';
  const lines = changed(good(), 1, (line) =>
    line
      .replace('"wallClock":""', `"wallClock":"${began}"`)
      .replace(/"atMs":[\d.]+/, '"atMs":-100000000000000000'),
  );
  const file = folderOf();
  writeFileSync(file, textOf(sealed(lines)));
  const db = newStore();
  expect(importRecordings(db, file)).toMatchObject([{ outcome: 'taken in' }]);
  expect(findJobs(db, {}).jobs[0]!.last.map(({ endedAt }) => endedAt)).toEqual([began, began]);
});

test('one bit flipped anywhere in a recording is noticed', () => {
  const bytes = Buffer.from(textOf(good()));
  for (let at = 3; at < bytes.length - 1; at += Math.ceil(bytes.length / 60)) {
    const harmed = Buffer.from(bytes);
    harmed[at] = harmed[at]! ^ (1 << (at % 8));
    const { all, jobs } = imported(harmed);
    expect(all.every(({ outcome }) => outcome === 'refused')).toBe(true);
    expect(jobs).toBe(0);
  }
});

test('cut off anywhere, a recording is noticed', () => {
  const text = textOf(good());
  for (let at = 1; at < text.length - 1; at += Math.ceil(text.length / 40)) {
    const { all, jobs } = imported(text.slice(0, at));
    expect(all).toMatchObject([{ outcome: 'refused' }]);
    expect(jobs).toBe(0);
  }
});

test('one that is refused does not hide those beside it in the file', () => {
  const first = good();
  const other = sealed(good().map((line) => line.replaceAll('job-1', 'job-other')));
  const broken = changed(
    sealed(good().map((line) => line.replaceAll('job-1', 'job-broken'))),
    3,
    (line) => line.slice(2),
  );
  const { all, jobs } = imported(textOf(first) + textOf(broken) + textOf(other));
  expect(all.map(({ job, outcome }) => [job, outcome])).toEqual([
    ['job-1', 'taken in'],
    ['job-broken', 'refused'],
    ['job-other', 'taken in'],
  ]);
  expect(jobs).toBe(2);
});
