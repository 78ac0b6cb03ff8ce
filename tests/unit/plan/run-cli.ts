import { main } from '@taptrue/server/cli/main.ts';

export interface Ran {
  code: number;
  out: string;
  err: string;
}

/** Runs one `taptrue` command line in this process as the launcher would. */
export async function runCli(...args: string[]): Promise<Ran> {
  const out: string[] = [];
  const err: string[] = [];
  const code = await main(args, { out: (text) => out.push(text), err: (text) => err.push(text) });
  return { code, out: out.join('\n'), err: err.join('\n') };
}
