import { faultLine } from '@taptrue/protocol';
import { findJob } from '../records/exchange/find-job.ts';
import { linesOfFile } from '../records/exchange/lines-of-file.ts';
import { RecordingRefused } from '../records/exchange/recording-faults.ts';
import { tellAgain } from '../records/exchange/told-again.ts';
import { fileWrong, type JobVerified, verifyStore } from '../records/exchange/verify-store.ts';
import type { Database } from '../records/store/database.ts';
import { codeIn } from '../records/store/store-faults.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { asRefusal, openRecord, PLACE_HELP, PLACE_OPTIONS } from './record-place.ts';
import { exitCodeOf } from './replay-command.ts';
import { toldAgainLines } from './told-again-lines.ts';

const HELP = `taptrue verify [FILE] [options]: checks everything that is kept, or a file of recordings.

The file of records itself, every piece in it, every line, the order of times, every result told again and
compared to the last digit, the list's figures, and the fingerprint of every signature. It reads only; the
service may be running.

  --job N               one job, by number or key
  --fingerprint HEX     is this fingerprint, from a paper, that of a signature here?
${PLACE_HELP}
  --json                everything as one object

Exit codes: 0 all holds; 1 something differs or is damaged; 3 it could not be read.`;

const OPTIONS = {
  ...PLACE_OPTIONS,
  job: { type: 'string' },
  fingerprint: { type: 'string' },
  json: { type: 'boolean' },
} as const;

type Values = ReturnType<typeof readArguments<typeof OPTIONS>>['values'];

/** Enough of a fingerprint to be typed off a paper and still be one in 4 thousand million. */
const FEWEST_DIGITS = 8;

async function run(args: string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 1) throw new Refusal('One file at a time: taptrue verify FILE.');
  const [file] = positionals;
  const wanted = values.fingerprint?.toLowerCase().replace(/\s/g, '') ?? null;
  if (wanted !== null && !/^[0-9a-f]{8,64}$/.test(wanted))
    throw new Refusal(
      `--fingerprint takes the first ${FEWEST_DIGITS} or more digits of the one on the paper; got ${wanted}.`,
    );
  const { jobs, wrong } =
    file === undefined ? await ofStore(values) : { jobs: ofFile(file), wrong: [] };
  const signed = jobs.flatMap((job) =>
    job.signatures
      .filter(({ fingerprint }) => wanted !== null && fingerprint.startsWith(wanted))
      .map((signature) => ({ job, signature })),
  );
  if (values.json) {
    terminal.out(JSON.stringify({ wrong, jobs, found: signed.map(({ job }) => job.job) }, null, 2));
  } else {
    for (const sentence of wrong) terminal.out(`The file itself: ${sentence}`);
    for (const job of jobs) terminal.out(`${linesOfJob(job).join('\n')}\n`);
    if (wanted !== null) terminal.out(foundLine(wanted, signed));
    terminal.out(summary(jobs, wrong));
  }
  if (wrong.length > 0 || jobs.some((job) => job.wrong.length > 0)) return EXIT.notTrue;
  if (wanted !== null && !signed.some(({ signature }) => signature.holds)) return EXIT.notTrue;
  return exitCodeOf(jobs);
}

async function ofStore(values: Values): Promise<{ jobs: JobVerified[]; wrong: string[] }> {
  const { db, place } = await openRecord(values);
  try {
    const wrong = fileWrong(db);
    const jobs: JobVerified[] = [];
    try {
      for (const job of verifyStore(db, keyOf(db, values.job))) jobs.push(job);
    } catch (error) {
      // Where the list itself cannot be read, that is what is wrong with the file.
      if (wrong.length === 0 || error instanceof Refusal) throw asRefusal(error, place);
      wrong.push(`the list of jobs cannot be read: ${codeIn(error)}`);
    }
    return { wrong, jobs };
  } finally {
    db.close();
  }
}

function ofFile(file: string): JobVerified[] {
  return [...tellAgain(linesOfFile(file))].map((job) => ({ ...job, wrong: [] }));
}

function keyOf(db: Database, job: string | undefined): string | null {
  if (job === undefined) return null;
  try {
    return findJob(db, job).key;
  } catch (error) {
    if (error instanceof RecordingRefused) throw new Refusal(faultLine(error.fault));
    throw error;
  }
}

function linesOfJob(job: JobVerified): string[] {
  return [...toldAgainLines(job), ...job.wrong.map((sentence) => `  damaged: ${sentence}`)];
}

function foundLine(
  wanted: string,
  signed: readonly { job: JobVerified; signature: { who: string; holds: boolean } }[],
): string {
  const [found] = signed;
  if (!found) return `No signature here has the fingerprint ${wanted}.`;
  const { job, signature } = found;
  return signature.holds
    ? `The paper is of job ${job.number} (${job.job}), signed by ${signature.who}; nothing before it was changed.`
    : `The paper names job ${job.number} (${job.job}), but its lines are not those that were signed.`;
}

function counts(number: number, what: string): string {
  return `${number} ${what}${number === 1 ? '' : 's'}`;
}

function summary(jobs: readonly JobVerified[], wrong: readonly string[]): string {
  const sweeps = jobs.reduce((sum, job) => sum + job.sweeps.length, 0);
  const bad = jobs.filter(
    (job) => job.refused !== null || job.different > 0 || job.wrong.length > 0,
  ).length;
  const counted = `${counts(jobs.length, 'job')} with ${counts(sweeps, 'sweep')}`;
  const damaged = wrong.length > 0 ? ', and the file is damaged' : '';
  return bad === 0 && wrong.length === 0
    ? `${counted}: all holds.`
    : `${counted}: ${bad} ${bad === 1 ? 'does' : 'do'} not hold${damaged}.`;
}

export const verifyCommand: CliCommand = {
  name: 'verify',
  summary: 'checks every record that is kept, or a file of recordings',
  help: HELP,
  run,
};
