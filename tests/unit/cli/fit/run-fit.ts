import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { SweepResult } from '@taptrue/protocol';
import { main } from '@taptrue/server/cli/main.ts';

/** Writes text (or bytes) to a file of its own in the system's temporary folder. */
export async function fileWith(content: string | Uint8Array, name = 'sweep.csv'): Promise<string> {
  const path = join(await mkdtemp(join(tmpdir(), 'taptrue-fit-')), name);
  await writeFile(path, content);
  return path;
}

export interface Ran {
  code: number;
  out: string;
  err: string;
}

/** Runs `taptrue fit` in this process as the launcher would. */
export async function runFit(...args: string[]): Promise<Ran> {
  const out: string[] = [];
  const err: string[] = [];
  const code = await main(['fit', ...args], {
    out: (text) => out.push(text),
    err: (text) => err.push(text),
  });
  return { code, out: out.join('\n'), err: err.join('\n') };
}

export async function fitJson(
  content: string,
  ...args: string[]
): Promise<SweepResult & { exit: number }> {
  const { code, out, err } = await runFit(await fileWith(content), '--json', ...args);
  if (out === '') throw new Error(err);
  return { ...(JSON.parse(out) as SweepResult), exit: code };
}
