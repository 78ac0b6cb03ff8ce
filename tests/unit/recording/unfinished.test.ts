import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { RecordRoom } from '@taptrue/server/record-room.ts';
import { RecordingsRoom } from '@taptrue/server/recordings-room.ts';
import { expect, test } from 'vitest';
import { newFolder } from './a-job.ts';

test('what was laid down by half when a service was killed is cleared away at the next start, and nothing else', () => {
  const folder = newFolder();
  const names = ['bench.json', 'incoming-0f.part', 'incoming.txt', 'record.sqlite'];
  for (const name of names) writeFileSync(join(folder, name), 'x');
  const records = new RecordRoom(folder, () => undefined);
  new RecordingsRoom(records, folder);
  expect(readdirSync(folder).sort()).toEqual(['bench.json', 'incoming.txt', 'record.sqlite']);
  expect(() => new RecordingsRoom(records, join(folder, 'not', 'there'))).not.toThrow();
});
