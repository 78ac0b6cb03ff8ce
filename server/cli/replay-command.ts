import { linesOfFile } from '../records/exchange/lines-of-file.ts';
import { type JobToldAgain, tellAgain } from '../records/exchange/told-again.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { toldAgainLines } from './told-again-lines.ts';

const HELP = `taptrue replay FILE [--json]: tells a recording to a fresh bench again and prints what each sweep says.

What was recorded and what comes out now are compared to the last digit; where they differ both are printed.
A file may hold several jobs.

  --json                everything, every figure of every result, as one object

Exit codes: 0 all comes out the same; 1 something differs; 3 a recording cannot be read or trusted.`;

async function run(args: string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(args, { json: { type: 'boolean' } });
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0)
    throw new Refusal('One file is told again: taptrue replay FILE.');
  const jobs: JobToldAgain[] = [];
  let isFirst = true;
  for (const job of tellAgain(linesOfFile(file))) {
    jobs.push(job);
    if (values.json) continue;
    if (!isFirst) terminal.out('');
    terminal.out(toldAgainLines(job).join('\n'));
    isFirst = false;
  }
  if (values.json) terminal.out(JSON.stringify({ jobs }, null, 2));
  return exitCodeOf(jobs);
}

/** What cannot be read weighs more than what differs; a difference is told as one, also where it is refused. */
export function exitCodeOf(jobs: readonly JobToldAgain[]): number {
  const isUnread = ({ refused }: JobToldAgain) =>
    refused !== null && refused.fault.code !== 'recording-not-recomputed';
  if (jobs.some(isUnread)) return EXIT.refused;
  return jobs.some(({ different }) => different > 0) ? EXIT.notTrue : EXIT.done;
}

export const replayCommand: CliCommand = {
  name: 'replay',
  summary: 'tells a recording again and compares every result with what was recorded',
  help: HELP,
  run,
};
