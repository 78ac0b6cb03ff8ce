import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { makeFolder } from '@taptrue/server/files/make-folder.ts';
import { afterAll, describe, expect, it } from 'vitest';

const folder = mkdtempSync(join(tmpdir(), 'taptrue-folders-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a folder to keep things in', () => {
  it('is made with those above it, and left as it is where it is there', () => {
    const path = join(folder, 'a', 'b', 'c');
    makeFolder(path);
    makeFolder(path);
    expect(statSync(path).isDirectory()).toBe(true);
  });

  it('behind a file is refused', () => {
    const file = join(folder, 'a-file');
    writeFileSync(file, '');
    expect(() => makeFolder(join(file, 'below'))).toThrow(/ENOTDIR|ENOENT|EEXIST/);
  });

  // Node 20 asked for all of it at once is still at it after an hour: in a process of its own, with an end.
  it.runIf(existsSync('/proc/self'))('where none can be made is refused at once', () => {
    const module = pathToFileURL(
      join(import.meta.dirname, '../../../../server/files/make-folder.ts'),
    ).href;
    const code = `import(${JSON.stringify(module)}).then(({ makeFolder }) => {
      try { makeFolder('/proc/nothing/below'); } catch (error) { console.log(error.code); }
    })`;
    const said = execFileSync(process.execPath, ['--import', 'tsx', '-e', code], {
      encoding: 'utf8',
      timeout: 30_000,
    });
    expect(said.trim()).toBe('ENOENT');
  });
});
