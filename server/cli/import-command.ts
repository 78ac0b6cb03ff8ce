import { faultLine, type ImportedRecording as Imported } from '@taptrue/protocol';
import { importRecordings } from '../records/exchange/import-recordings.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { asRefusal, openRecordToWrite, PLACE_HELP, PLACE_OPTIONS } from './record-place.ts';

const HELP = `taptrue import FILE ... [options]: takes recordings in, after checking all of each.

Checked are every line against the format, the end line, the order of times, the signatures, and that the
recorded results come out of their readings again. What is refused is named with its line; what is kept here
already is passed over. The service may be running; the jobs are then in its list under Proof.

${PLACE_HELP}
  --json                what became of each, as one object

Exit codes: 0 all are here now; 3 one or more were refused.`;

const OPTIONS = { ...PLACE_OPTIONS, json: { type: 'boolean' } } as const;

function lineOf(file: string, one: Imported): string {
  const job =
    one.number === null ? 'a recording' : `job ${one.number} of bench "${one.bench}" (${one.job})`;
  if (one.fault) return `${file}: ${job} refused. ${faultLine(one.fault)}`;
  const otherwise =
    one.differences === 0
      ? ''
      : ` Another version recorded it; ${one.differences} results come out otherwise now, see taptrue replay.`;
  return `${file}: ${job} ${one.outcome}, ${one.entries} entries.${otherwise}`;
}

async function run(args: string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length === 0) throw new Refusal('Which file? taptrue import FILE.');
  const { db, place } = await openRecordToWrite(values);
  const all: (Imported & { file: string })[] = [];
  try {
    for (const file of positionals) {
      for (const one of importRecordings(db, file)) {
        all.push({ file, ...one });
        if (values.json) continue;
        if (one.fault) terminal.err(lineOf(file, one));
        else terminal.out(lineOf(file, one));
      }
    }
  } catch (error) {
    throw asRefusal(error, place);
  } finally {
    db.close();
  }
  if (values.json) terminal.out(JSON.stringify({ record: place.path, imported: all }, null, 2));
  return all.some(({ outcome }) => outcome === 'refused') ? EXIT.refused : EXIT.done;
}

export const importCommand: CliCommand = {
  name: 'import',
  summary: 'takes recordings in, after checking all of each',
  help: HELP,
  run,
};
