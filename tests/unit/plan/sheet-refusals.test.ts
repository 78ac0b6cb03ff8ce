import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCli } from './run-cli.ts';

const PRINT = ['--angle', '12deg30min', '--bar', '5in', '--set', 'inch-81'];
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'taptrue-sheet-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a sheet that cannot be written', () => {
  it('is told in words where its folder is missing', async () => {
    const file = join(folder, 'none', 'sheet.html');
    expect(await runCli('plan', ...PRINT, '--sheet', file)).toEqual({
      code: 3,
      out: '',
      err: `--sheet: ${file} cannot be written: there is no such folder. Name a place you may write to.`,
    });
  });

  it('is not passed over in silence by a command that writes none', async () => {
    const { code, out, err } = await runCli('budget', ...PRINT, '--sheet', 'sheet.html');
    expect({ code, out }).toEqual({ code: 3, out: '' });
    expect(err).toContain('budget writes no sheet. taptrue plan --sheet does');
  });
});
