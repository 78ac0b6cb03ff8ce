import { readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { expect, test } from 'vitest';
import { ROOT } from './source-files.ts';

/** Files that are loaded with this one, and packages; imports of types alone load nothing. */
function loadedWith(file: string, seen = new Set<string>()): Set<string> {
  if (seen.has(file)) return seen;
  seen.add(file);
  const text = readFileSync(join(ROOT, file), 'utf8');
  for (const [, what, from] of text.matchAll(/^import ([^;]*?)from '([^']+)';/gms)) {
    if (what!.startsWith('type ')) continue;
    if (from!.startsWith('.')) loadedWith(normalize(join(dirname(file), from!)), seen);
    else seen.add(from!);
  }
  return seen;
}

test('the thread that writes the record loads no schemas: it is up before the first reading', () => {
  const packages = [
    ...loadedWith('server/records/store/store-worker.ts'),
    ...loadedWith('server/records/store/write-tasks.ts'),
  ].filter((name) => !name.endsWith('.ts') && !name.startsWith('node:'));
  expect(new Set(packages)).toEqual(new Set(['libsql']));
});
