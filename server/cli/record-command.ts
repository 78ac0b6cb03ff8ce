import { writeFile } from 'node:fs/promises';
import { faultLine, formatAngle, RADIANS_PER_ARCSEC } from '@taptrue/protocol';
import { findPrinter, printPdf } from '../plan/print-pdf.ts';
import type { Paper } from '../plan/sheet/setup-sheet.ts';
import { findJob } from '../records/exchange/find-job.ts';
import { RecordingRefused } from '../records/exchange/recording-faults.ts';
import { finalAngle } from '../records/sheet/final-angle.ts';
import { keptSheetFacts } from '../records/sheet/print-record.ts';
import { proofSheet } from '../records/sheet/proof-sheet.ts';
import type { SheetFacts } from '../records/sheet/sheet-facts.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { asRefusal, openRecord, PLACE_HELP, PLACE_OPTIONS } from './record-place.ts';
import { textTable } from './text-table.ts';
import { whyNotWritten } from './why-not-written.ts';

const HELP = `taptrue record --job N [--sheet FILE.pdf|.html] [options]: the record of one job, for reading or for paper.

  --job N               job of that number, or its key
  --sheet FILE          the one-page record; a PDF is printed by a browser found on this system
                        (a file of that name is written over)
  --paper a4|letter     paper of the page (default: letter for inch, a4 for metric)
${PLACE_HELP}

taptrue export lists the jobs. Exit codes: 0 done; 3 refused.`;

const OPTIONS = {
  ...PLACE_OPTIONS,
  job: { type: 'string' },
  sheet: { type: 'string' },
  paper: { type: 'string' },
} as const;

async function run(args: string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 0)
    throw new Refusal(`"${positionals[0]}" belongs to no option. A job is named with --job N.`);
  if (values.job === undefined) throw new Refusal('Which job? --job N; taptrue export lists them.');
  const { paper } = values;
  if (paper !== undefined && paper !== 'a4' && paper !== 'letter')
    throw new Refusal(`--paper takes a4 or letter; got ${paper}.`);
  const { db, place } = await openRecord(values);
  try {
    const facts = keptSheetFacts(db, findJob(db, values.job).key);
    terminal.out(report(facts));
    if (values.sheet !== undefined) {
      await print(facts, values.sheet, paper ?? usualPaper(facts));
      terminal.out(`\nRecord for paper: ${values.sheet}`);
    }
  } catch (error) {
    if (error instanceof RecordingRefused) throw new Refusal(faultLine(error.fault));
    throw asRefusal(error, place);
  } finally {
    db.close();
  }
  return EXIT.done;
}

function usualPaper({ state }: SheetFacts): Paper {
  return state.setup.displayUnit === 'in' ? 'letter' : 'a4';
}

async function print(facts: SheetFacts, file: string, paper: Paper): Promise<void> {
  const printedText = `printed ${new Date().toISOString().slice(0, 10)}`;
  const html = proofSheet(facts, { paper, printedText });
  if (/\.pdf$/i.test(file)) {
    const printed = await printPdf(html, file, findPrinter(process.env, process.platform));
    if (!printed.ok) throw new Refusal(faultLine(printed.fault));
    return;
  }
  try {
    await writeFile(file, html);
  } catch (error) {
    throw new Refusal(
      `--sheet: ${file} cannot be written: ${whyNotWritten(error)}. Name a place you may write to.`,
    );
  }
}

function report(facts: SheetFacts): string {
  const { opened, stages, final, state, plan, signatures, isSimulated } = facts;
  const arcsec = (value: number, plus = false) => formatAngle(value * RADIANS_PER_ARCSEC, { plus });
  const rows = stages.map(({ stage, ended, result }) => [
    stage,
    String(ended.sweep),
    arcsec(result.deviationArcsec, true),
    result.outOfTrueArcsecExpanded === null ? '' : `± ${arcsec(result.outOfTrueArcsecExpanded)}`,
    result.verdict ?? 'not judged',
  ]);
  const angle = finalAngle(plan, final.result);
  const size = angle?.expandedArcsec == null ? '' : ` ± ${arcsec(angle.expandedArcsec)}`;
  return [
    `Job ${opened.start.job} of bench "${opened.bench}", begun ${opened.wallClock}${isSimulated ? ', SIMULATED' : ''}`,
    `${state.card.jobNumber} ${state.card.part}`.trim(),
    textTable(['stage', 'sweep', 'off target', '', 'verdict'], rows),
    angle ? `The jaw stands at ${arcsec(angle.angleArcsec)}${size} (95 %).` : '',
    final.result.sentence,
    ...signatures.map(
      ({ role, who, wallClock, fingerprint, holds }) =>
        `${role} ${who}, ${wallClock}, ${fingerprint.slice(0, 16)}… ${holds ? 'holds' : 'does not fit the record'}`,
    ),
  ]
    .filter((line) => line !== '')
    .join('\n');
}

export const recordCommand: CliCommand = {
  name: 'record',
  summary: 'prints the one-page record of a job',
  help: HELP,
  run,
};
