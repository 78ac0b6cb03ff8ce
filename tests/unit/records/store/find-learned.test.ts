import { append, MEASURED_HERE } from '@taptrue/server/records/store/append.ts';
import { finalSweeps, turnsOfVise } from '@taptrue/server/records/store/find-learned.ts';
import { expect, test } from 'vitest';
import { newStore } from '../exchange/a-job.ts';
import { endedSweep, keptJob } from './kept-jobs.ts';

test.each([
  ['nobody named', '', [MEASURED_HERE], 1],
  ['nobody named, all of it from elsewhere', '', ['a recording', 'a recording'], 0],
  ['nobody named, here and from elsewhere', '', [MEASURED_HERE, 'a recording'], 1],
  ['is named alike here and elsewhere', 'Mill 3', [MEASURED_HERE, 'a recording'], 2],
])('a vise that %s is taught by jobs of its own only', (_how, machine, origins, jobs) => {
  const db = newStore();
  for (const [at, origin] of origins.entries()) {
    const between = {
      entry: 'between sweeps',
      atMs: 120_000,
      before: 1,
      after: 2,
      stageBefore: 'snug',
      stageAfter: 'tight',
      turnedArcsec: 9,
      tapped: null,
      clampChanges: 1,
      zeroMoved: null,
      pivot: null,
    } as const;
    const first = endedSweep({ number: 1, arcsec: 3, stage: 'snug' });
    const entries = [first, endedSweep({ number: 2, arcsec: 12 }), between];
    const job = keptJob({ key: `job-${at + 1}`, number: at + 1, card: { machine }, entries });
    append(db, origin === MEASURED_HERE ? job : { ...job, origin });
  }
  const vise = { machine, simulated: false };
  expect(turnsOfVise(db, vise)).toHaveLength(jobs);
  expect(finalSweeps(db, vise)).toHaveLength(jobs);
});

test('a jaw that was swept to a slope on purpose has not drifted by it', () => {
  const db = newStore();
  const ended = endedSweep({ number: 1, arcsec: 3603 });
  const result = { ...ended.result, deviationArcsec: 3 };
  append(db, keptJob({ key: 'job-1', entries: [{ ...ended, result }] }));
  expect(finalSweeps(db, { machine: '', simulated: false })).toMatchObject([{ arcsec: 3 }]);
});
