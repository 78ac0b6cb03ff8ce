import { join } from 'node:path';
import type { Reading, RecordEntry } from '@taptrue/protocol';
import { openStore, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { openKept } from '@taptrue/server/service/open-kept.ts';
import { expect, test } from 'vitest';
import { AtTheBench } from '../../bench/at-the-bench.ts';
import { keepIn, newFolder } from '../exchange/a-job.ts';

const HOUR_MS = 3_600_000;

/** A swept job whose needle then stood idle for an hour: its last pieces hold nothing but readings. */
function idleJob(openedAt: string): { key: string; entries: RecordEntry[]; lastAtMs: number } {
  const at = new AtTheBench({ rises: 'toward', stationsMm: [0, 127] });
  at.sweepKeyed(['0', '0.0020']);
  at.connect('indicator');
  const [opened, ...rest] = at.recorded;
  if (opened?.entry !== 'opened') throw new Error('no beginning');
  const beganMs = at.nowMs;
  const idle = Array.from({ length: 1000 }, (_, index): RecordEntry => {
    const atMs = beganMs + ((index + 1) * HOUR_MS) / 1000;
    const reading: Reading = {
      sequence: index + 1,
      atMs,
      text: '+0.0020',
      channel: null,
      value: 0.002,
      unit: 'in',
      valueMm: 0.0508,
      decimals: 4,
      status: 'ok',
    };
    return { entry: 'reading', atMs, link: 'indicator', reading };
  });
  return {
    key: at.bench.jobKey,
    entries: [{ ...opened, wallClock: openedAt }, ...rest, ...idle],
    lastAtMs: beganMs + HOUR_MS,
  };
}

test.each([
  ['runs on', 2 * HOUR_MS, 0],
  ['was set back by a day', -24 * HOUR_MS, 0],
])(
  'a job taken up after an idle hour goes on behind its last reading where the clock of the wall %s',
  async (_how, agoMs) => {
    const folder = newFolder();
    const { key, entries, lastAtMs } = idleJob(new Date(Date.now() - agoMs).toISOString());
    const db = openStore(join(folder, STORE_FILE));
    keepIn(db, key, entries);
    db.close();
    const before = await openKept(
      { name: 'mill', dataFolder: folder, demo: false, addresses: [], connect: {} },
      folder,
    );
    try {
      expect(before.store.state.history.sweeps).toHaveLength(1);
      expect(before.clock.now()).toBeGreaterThan(lastAtMs);
    } finally {
      await before.records.close();
    }
  },
);
