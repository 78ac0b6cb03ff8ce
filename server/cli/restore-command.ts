import { faultLine } from '@taptrue/protocol';
import { restore } from '../records/exchange/restore.ts';
import { readArguments } from './arguments.ts';
import { countWords } from './backup-command.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { PLACE_HELP, PLACE_OPTIONS, recordPlace } from './record-place.ts';

const HELP = `taptrue restore FILE [options]: puts a backup in the place of a bench's records.

The service must not be running there. What was there is kept beside it, under another name.

${PLACE_HELP}

Exit codes: 0 done; 3 refused.`;

async function run(args: string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(args, PLACE_OPTIONS);
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0)
    throw new Refusal('Which backup? taptrue restore FILE.');
  const place = await recordPlace(values);
  const stamp = new Date().toISOString().slice(0, 19).replace(/[:.]/g, '-');
  const done = restore(file, place.folder, stamp);
  if (!done.ok) throw new Refusal(faultLine(done.fault));
  terminal.out(`${place.path}: ${countWords(done.count)}`);
  if (done.keptAt !== null) terminal.out(`What was there before is kept at ${done.keptAt}`);
  return EXIT.done;
}

export const restoreCommand: CliCommand = {
  name: 'restore',
  summary: 'puts a backup in the place of the records; the old ones are kept beside',
  help: HELP,
  run,
};
