import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ExchangeController } from '@taptrue/server/records/exchange/exchange-controller.ts';
import { JobJournal } from '@taptrue/server/records/journal/job-journal.ts';
import { expect, test } from 'vitest';
import { newFolder } from './a-job.ts';

test('what was laid down by half when a service was killed is cleared away at the next start, and nothing else', () => {
  const folder = newFolder();
  const names = ['bench.json', 'incoming-0f.part', 'incoming.txt', 'record.sqlite'];
  for (const name of names) writeFileSync(join(folder, name), 'x');
  const records = new JobJournal(folder, () => undefined);
  new ExchangeController(records, folder);
  expect(readdirSync(folder).sort()).toEqual(['bench.json', 'incoming.txt', 'record.sqlite']);
  expect(() => new ExchangeController(records, join(folder, 'not', 'there'))).not.toThrow();
});
