import { faultLine } from '@taptrue/protocol';
import { backUp, type StoreCount } from '../records/exchange/back-up.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { openRecord, PLACE_HELP, PLACE_OPTIONS } from './record-place.ts';

const HELP = `taptrue backup FILE [options]: copies all records of a bench into one file, while the service may run.

The copy is of one moment, is looked through, and never takes the place of another file. taptrue restore FILE
brings it back.

${PLACE_HELP}

Exit codes: 0 done; 3 refused.`;

export function countWords({ jobs, sweeps, entries, bytes }: StoreCount): string {
  return `${jobs} jobs, ${sweeps} sweeps, ${entries} entries, ${(bytes / 1e6).toFixed(1)} MB`;
}

async function run(args: string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(args, PLACE_OPTIONS);
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0)
    throw new Refusal('Into which file? taptrue backup FILE.');
  const { db, place } = await openRecord(values);
  db.close();
  const done = backUp(place.path, file);
  if (!done.ok) throw new Refusal(faultLine(done.fault));
  terminal.out(`${file}: ${countWords(done.count)}, of ${place.path}`);
  return EXIT.done;
}

export const backupCommand: CliCommand = {
  name: 'backup',
  summary: 'copies all records into one file, while the service may run',
  help: HELP,
  run,
};
