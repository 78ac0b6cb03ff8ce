import type { RecordEntry } from '@taptrue/protocol';
import { append } from '@taptrue/server/records/store/append.ts';
import { whereItStood } from '@taptrue/server/records/store/read-record.ts';
import { expect, test } from 'vitest';
import { newStore } from '../exchange/a-job.ts';
import { keptJob } from './kept-jobs.ts';

const CLOSED: RecordEntry = {
  entry: 'closed',
  atMs: 9000,
  wallClock: '2026-03-02T09:00:00.000Z',
};

test.each<[string, ('open' | 'closed' | 'from elsewhere')[], string | null]>([
  ['the newest, where it is open', ['closed', 'open'], 'job-2'],
  ['the newest of this bench, whatever was taken in since', ['open', 'from elsewhere'], 'job-1'],
  ['none, where the newest is closed, also with an older one left open', ['open', 'closed'], null],
  ['none in an empty store', [], null],
])('the job that is going on is %s', (_which, jobs, openJob) => {
  const db = newStore();
  for (const [at, how] of jobs.entries()) {
    const entries = how === 'closed' ? [CLOSED] : [];
    const job = keptJob({ key: `job-${at + 1}`, number: at + 1, entries });
    append(db, how === 'from elsewhere' ? { ...job, origin: 'a recording' } : job);
  }
  expect(whereItStood(db)).toMatchObject({ openJob });
});
