import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Command, RecordEntry } from '@taptrue/protocol';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import { Bench } from '@taptrue/server/bench/bench.ts';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { recompute } from '@taptrue/server/records/journal/recompute.ts';
import { append } from '@taptrue/server/records/store/append.ts';
import { Database } from '@taptrue/server/records/store/database.ts';
import { JobRecord } from '@taptrue/server/records/store/job-record.ts';
import { migrate, NewerStore, STORE_VERSION } from '@taptrue/server/records/store/migrations.ts';
import { openStore } from '@taptrue/server/records/store/open-store.ts';
import { chunkHeads, chunkLines } from '@taptrue/server/records/store/read-record.ts';
import { recordNotKept } from '@taptrue/server/records/store/store-faults.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';

/** A short job, keyed: two sweeps with a tap and a turn of the clamps between them. */
const JOB: readonly Command[] = [
  { kind: 'change setup', change: { rises: 'toward', stationsMm: [0, 100], backPass: false } },
  { kind: 'begin sweep' },
  { kind: 'take station', keyed: '0.0000' },
  { kind: 'take station', keyed: '0.0010' },
  { kind: 'park', xMm: 100, keyed: '0.0010' },
  { kind: 'tap reading', keyed: '0.0002' },
  { kind: 'set stage', stage: 'snug' },
  { kind: 'begin sweep' },
  { kind: 'take station', keyed: '0.0001' },
  { kind: 'take station', keyed: '0.0002' },
];

/** SQLite that fails at its nth statement, once or from then on. */
class FailingDatabase extends Database {
  statements = 0;
  fails: (nth: number) => boolean = () => false;

  override run(sql: string, ...values: Parameters<Database['run']>[1][]) {
    this.statements += 1;
    if (this.fails(this.statements))
      throw Object.assign(new Error('disk I/O error'), { code: 'SQLITE_IOERR' });
    return super.run(sql, ...values);
  }
}

async function workThrough(db: Database, commands = JOB) {
  const store = new SectionStore(firstState('mill', PROTOCOL_VERSION));
  const troubles: unknown[] = [];
  let atMs = 0;
  const record = new JobRecord({
    job: 'job-1',
    append: async (batch) => append(db, batch),
    onTrouble: (error) => troubles.push(error),
  });
  const bench = new Bench(store, {
    name: 'mill',
    serviceVersion: PROTOCOL_VERSION,
    remembered: null,
    record: (entry) => record.add(entry),
    wallClock: () => '2026-11-25T08:00:00.000Z',
  });
  for (const command of commands) {
    atMs += 1000;
    expect(bench.command(command, atMs).ok).toBe(true);
    await record.flush();
  }
  return { store, record, troubles };
}

function keptIn(db: Database): RecordEntry[] {
  return chunkHeads(db, 'job-1').flatMap(({ seq }) =>
    chunkLines(db, { job: 'job-1', seq })
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as RecordEntry),
  );
}

const inMemory = () => {
  const db = new FailingDatabase(':memory:');
  migrate(db);
  return db;
};

describe('every statement of a job failing in its turn', async () => {
  const sound = inMemory();
  const { store } = await workThrough(sound);
  const whole = keptIn(sound);
  const count = sound.statements;

  test('the job without a fault is kept, recomputes, and is found', () => {
    const [opened, ...rest] = whole;
    if (opened?.entry !== 'opened') throw new Error('no beginning');
    expect(recompute(opened, rest).differences).toEqual([]);
    expect(sound.all('SELECT number, stage FROM sweep ORDER BY number')).toEqual([
      { number: 1, stage: 'nipped' },
      { number: 2, stage: 'snug' },
    ]);
  });

  test(`failing once: the same record is kept and the same state shown, ${count} times over`, async () => {
    for (let nth = 1; nth <= count; nth += 1) {
      const db = inMemory();
      db.fails = (statement) => statement === nth;
      const worked = await workThrough(db);
      expect(await worked.record.flush()).toBe(true);
      expect(keptIn(db)).toEqual(whole);
      expect(db.all('SELECT * FROM sweep')).toEqual(sound.all('SELECT * FROM sweep'));
      expect(worked.store.get('history')).toEqual(store.get('history'));
      expect(worked.troubles).toHaveLength(2);
      await worked.record.close();
    }
  });

  test(`failing from then on: what was kept before is whole, what came after is held and told, ${count} times over`, async () => {
    for (let nth = 1; nth <= count; nth += 1) {
      const db = inMemory();
      db.fails = (statement) => statement >= nth;
      const worked = await workThrough(db);
      const kept = keptIn(db);
      expect(kept).toEqual(whole.slice(0, kept.length));
      expect(worked.record.pending).toBe(whole.length - kept.length);
      expect(worked.store.get('history')).toEqual(store.get('history'));
      expect(recordNotKept('record.sqlite', worked.troubles[0])).toMatchObject({
        code: 'record-not-kept',
        got: expect.stringContaining('SQLITE_IOERR'),
      });
      // The disk is mended: everything held is written, once.
      db.fails = () => false;
      expect(await worked.record.flush()).toBe(true);
      expect(keptIn(db)).toEqual(whole);
      await worked.record.close();
    }
  });
});

describe('the file of the store', () => {
  let folder = '';
  let path = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'taptrue-store-'));
    path = join(folder, 'record.sqlite');
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  test('on a disk that is really full is told as that; with room again all is kept', async () => {
    const db = openStore(path);
    const pages = Number(db.get('PRAGMA page_count')!.page_count);
    db.exec(`PRAGMA max_page_count = ${pages}`);
    // Forty sweeps: more than the pages that are there already.
    const worked = await workThrough(db, Array.from({ length: 20 }, () => JOB).flat());
    expect(worked.record.pending).toBeGreaterThan(0);
    expect(recordNotKept(path, worked.troubles[0])).toMatchObject({
      got: `SQLITE_FULL at ${path}`,
      remedy: expect.stringContaining('make room'),
    });
    db.exec('PRAGMA max_page_count = 1000000');
    expect(await worked.record.flush()).toBe(true);
    expect(keptIn(db).filter(({ entry }) => entry === 'sweep ended')).toHaveLength(40);
    await worked.record.close();
    db.close();
  });

  test('of a newer version is left as it is, and named', () => {
    const newer = openStore(path);
    newer.exec(`PRAGMA user_version = ${STORE_VERSION + 1}`);
    newer.close();
    expect(() => openStore(path)).toThrow(NewerStore);
    const fault = recordNotKept(path, new NewerStore(STORE_VERSION + 1));
    expect(fault.got).toContain(`store version ${STORE_VERSION + 1}`);
    expect(fault.remedy).toContain('A newer Taptrue wrote it');
  });

  test.each([
    [
      'is no database',
      'This is a shopping list, and a long one at that.'.repeat(100),
      'not a record',
    ],
    ['was cut off in its head', 'SQLite format 3\0', 'not a record'],
  ])('that %s is told, not written over', (_what, text, remedy) => {
    writeFileSync(path, text);
    let refusal: unknown;
    try {
      openStore(path);
    } catch (error) {
      refusal = error;
    }
    expect(recordNotKept(path, refusal).remedy).toContain(remedy);
  });

  test('is on the disk when a commit returns, in WAL mode', () => {
    const db = openStore(path);
    expect(db.get('PRAGMA journal_mode')).toEqual({ journal_mode: 'wal' });
    expect(db.get('PRAGMA synchronous')).toEqual({ synchronous: 2 });
    db.close();
  });
});

test('a time of day that is set back and forth changes no result', () => {
  const results = [
    ['2026-11-25T08:00:00.000Z'],
    ['2031-01-01T00:00:00.000Z', '1999-12-31T23:59:59.000Z'],
  ].map((times) => {
    const ended: unknown[] = [];
    let asked = 0;
    const bench = new Bench(new SectionStore(firstState('mill', PROTOCOL_VERSION)), {
      name: 'mill',
      serviceVersion: PROTOCOL_VERSION,
      remembered: null,
      wallClock: () => times[asked++ % times.length]!,
      record: (entry) => entry.entry === 'sweep ended' && ended.push(entry),
    });
    for (const [index, command] of JOB.entries()) bench.command(command, index * 1000);
    return ended;
  });
  expect(results[0]).toHaveLength(2);
  expect(results[1]).toEqual(results[0]);
});
