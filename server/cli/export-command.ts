import { faultLine } from '@taptrue/protocol';
import {
  csvFileName,
  RECORDING_ENDING,
  recordingFileName,
} from '../records/exchange/file-names.ts';
import { findJob, type KeptJob, keptJobs } from '../records/exchange/find-job.ts';
import { RecordingRefused, sweepNotKept } from '../records/exchange/recording-faults.ts';
import { storedRecording } from '../records/exchange/stored-recording.ts';
import { storedSweepCsv } from '../records/exchange/stored-sweep.ts';
import type { Database } from '../records/store/database.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import {
  asRefusal,
  openRecord,
  PLACE_HELP,
  PLACE_OPTIONS,
  type RecordPlace,
} from './record-place.ts';
import { textTable } from './text-table.ts';
import { inFolder, writeNew } from './write-new.ts';

const HELP = `taptrue export [--job N] [options]: gives out jobs as recordings, lines of JSON that any editor opens.

Without --job and --all it lists the jobs that are kept.

  --job N               job of that number, or its key
  --sweep N             up to the end of that sweep, with what led to it
  --csv                 with --job and --sweep: the points of the sweep as a table, in millimetres
  --all                 every job
  --out FILE|FOLDER     where to (usual: a file named after the job, in this folder); with --all a folder
                        gets a file a job, and a name that ends in .jsonl one file of all
${PLACE_HELP}
  --json                list as one object

A file that is there already is never written over. Exit codes: 0 done; 3 refused.`;

const OPTIONS = {
  ...PLACE_OPTIONS,
  job: { type: 'string' },
  sweep: { type: 'string' },
  csv: { type: 'boolean' },
  all: { type: 'boolean' },
  out: { type: 'string' },
  json: { type: 'boolean' },
} as const;

type Values = ReturnType<typeof readArguments<typeof OPTIONS>>['values'];

async function run(args: string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 0)
    throw new Refusal(`"${positionals[0]}" belongs to no option. A job is named with --job N.`);
  const sweep = sweepOf(values);
  const { db, place } = await openRecord(values);
  try {
    if (values.job !== undefined) exportJob(db, findJob(db, values.job), sweep, values, terminal);
    else if (values.all) return exportAll(db, values.out ?? '.', terminal, place);
    else list(keptJobs(db), values.json ?? false, terminal);
  } catch (error) {
    if (error instanceof RecordingRefused) throw new Refusal(faultLine(error.fault));
    throw asRefusal(error, place);
  } finally {
    db.close();
  }
  return EXIT.done;
}

function sweepOf({ sweep, csv, job, all }: Values): number | null {
  if (job !== undefined && all) throw new Refusal('--job and --all exclude each other.');
  if ((sweep !== undefined || csv) && job === undefined)
    throw new Refusal('--sweep and --csv need --job N as well.');
  if (csv && sweep === undefined)
    throw new Refusal('--csv is of one sweep: give --sweep N as well.');
  if (sweep === undefined) return null;
  if (!/^\d{1,6}$/.test(sweep)) throw new Refusal(`--sweep takes a number; got ${sweep}.`);
  return Number(sweep);
}

function exportJob(
  db: Database,
  job: KeptJob,
  sweep: number | null,
  values: Values,
  terminal: Terminal,
): void {
  const out = values.out ?? '.';
  if (values.csv && sweep !== null) {
    const file = inFolder(out, csvFileName(job.number, job.key, sweep));
    const text = storedSweepCsv(db, job.key, sweep);
    terminal.out(`${file}: ${text.split('\n').length - 2} points of sweep ${sweep}`);
    writeNew(file, [text]);
    return;
  }
  const file = inFolder(out, recordingFileName(job.number, job.key, sweep));
  writeRecordings(db, file, [job], sweep);
  terminal.out(`${file}: job ${job.number}${sweep === null ? '' : ` up to sweep ${sweep}`}`);
}

function exportAll(db: Database, out: string, terminal: Terminal, place: RecordPlace): number {
  const jobs = keptJobs(db);
  if (jobs.length === 0) throw new Refusal('No job is kept there yet.');
  if (out.endsWith('.jsonl')) {
    writeRecordings(db, out, jobs, null);
    terminal.out(`${out}: ${jobs.length} jobs`);
    return EXIT.done;
  }
  let code: number = EXIT.done;
  for (const job of jobs) {
    const file = inFolder(out, recordingFileName(job.number, job.key), true);
    try {
      writeRecordings(db, file, [job], null);
      terminal.out(file);
    } catch (error) {
      // One that is damaged keeps none of the others in.
      const refusal = asRefusal(error, place);
      if (!(refusal instanceof Refusal)) throw error;
      terminal.err(`Job ${job.number} (${job.key}): ${refusal.message}`);
      code = EXIT.refused;
    }
  }
  return code;
}

function writeRecordings(
  db: Database,
  file: string,
  jobs: readonly KeptJob[],
  sweep: number | null,
): void {
  writeNew(file, textsOf(db, jobs, sweep));
}

function* textsOf(db: Database, jobs: readonly KeptJob[], sweep: number | null): Generator<string> {
  for (const { key, number } of jobs) {
    const { hasSweep } = yield* storedRecording(db, key, sweep);
    if (!hasSweep)
      throw new RecordingRefused(null, sweepNotKept(`sweep ${sweep} of job ${number}`));
  }
}

function list(jobs: readonly KeptJob[], json: boolean, terminal: Terminal): void {
  if (json) {
    terminal.out(JSON.stringify({ jobs }, null, 2));
    return;
  }
  if (jobs.length === 0) {
    terminal.out('No job is kept there yet.');
    return;
  }
  const rows = jobs.map((job) => [
    String(job.number),
    job.startedAt.slice(0, 16).replace('T', ' '),
    String(job.sweeps),
    String(job.entries),
    job.signatures === 0 ? '' : String(job.signatures),
    [job.origin, job.simulated ? 'SIMULATED' : '', job.inBin ? 'in the bin' : '']
      .filter(Boolean)
      .join(', '),
    job.bench,
    job.key,
  ]);
  const head = ['job', 'begun (UTC)', 'sweeps', 'entries', 'signed', 'where from', 'bench', 'key'];
  terminal.out(textTable(head, rows));
  terminal.out(`\ntaptrue export --job N gives one out as a file *${RECORDING_ENDING}.`);
}

export const exportCommand: CliCommand = {
  name: 'export',
  summary: 'gives out jobs as recordings, or the points of a sweep as a table',
  help: HELP,
  run,
};
