import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { main } from '@taptrue/server/cli/main.ts';
import { Database } from '@taptrue/server/records/store/database.ts';
import { STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { describe, expect, test } from 'vitest';
import { newFolder } from '../exchange/a-job.ts';

/** What a power cut at the first start, or a wrong folder, leaves where records should be. */
const FILES: [string, (path: string) => void, string][] = [
  ['an empty file', (path) => writeFileSync(path, ''), 'NO_RECORDS'],
  [
    'a database of another program',
    (path) => {
      const db = new Database(path);
      db.exec('CREATE TABLE other (x)');
      db.close();
    },
    'NO_RECORDS',
  ],
  ['no database', (path) => writeFileSync(path, 'something else'.repeat(100)), 'SQLITE_NOTADB'],
];

describe.each(FILES)('where %s lies in the place of the records', (_what, make, code) => {
  test.each([[['verify']], [['export']], [['record', '--job', '1']], [['backup', 'copy.sqlite']]])(
    '%j says so in a sentence, with what to do',
    async (args) => {
      const folder = newFolder();
      mkdirSync(join(folder, 'mill'));
      make(join(folder, 'mill', STORE_FILE));
      const said: string[] = [];
      const terminal = { out: () => undefined, err: (text: string) => void said.push(text) };
      const whole = args.map((arg) => (arg === 'copy.sqlite' ? join(folder, arg) : arg));
      expect(await main([...whole, '--data', folder, '--name', 'mill'], terminal)).toBe(3);
      expect(said.join('\n')).toContain(code);
      expect(said.join('\n')).toContain('taptrue restore');
    },
  );
});
