import type { Fault, Stage, SweepResult } from '@taptrue/protocol';
import { type CheckedRecording, checkRecordings, type SignatureFound } from './check-recordings.ts';
import type { FileLine } from './lines-of-file.ts';
import { firstDifference, sayDifference } from './say-difference.ts';

/** One sweep of a recording: what was recorded, and what comes out of its readings now. */
export interface SweepToldAgain {
  sweep: number;
  stage: Stage;
  simulated: boolean;
  recorded: SweepResult | null;
  recomputed: SweepResult | null;
  /** The first place in which the two differ; null: they are the same to the last digit. */
  difference: string | null;
}

/** One job of a file or store, told again. */
export interface JobToldAgain {
  job: string | null;
  number: number | null;
  bench: string | null;
  began: string | null;
  /** Version of the program that recorded; the same as ours or not. */
  version: string | null;
  isOurVersion: boolean;
  simulated: boolean;
  lines: number;
  fingerprint: string;
  sweeps: SweepToldAgain[];
  same: number;
  different: number;
  differences: { line: number | null; what: string }[];
  signatures: SignatureFound[];
  /** Why it cannot be trusted or read, and in which line of the file. */
  refused: { line: number | null; fault: Fault } | null;
}

/** Tells every job of a file or a store again and compares. Results come one job at a time. */
export function* tellAgain(lines: Iterable<FileLine>): Generator<JobToldAgain> {
  let sweeps: SweepToldAgain[] = [];
  const hooks: Parameters<typeof checkRecordings>[1] = {
    onSweep: (recorded, recomputed) => {
      const one = recorded ?? recomputed;
      if (!one) return;
      const first = firstDifference(recorded, recomputed);
      sweeps.push({
        sweep: one.sweep,
        stage: one.stage,
        simulated: one.simulated,
        recorded: recorded?.result ?? null,
        recomputed: recomputed?.result ?? null,
        difference: first && (first.path || 'one of them is missing'),
      });
    },
  };
  for (const checked of checkRecordings(lines, hooks)) {
    yield told(checked, sweeps);
    sweeps = [];
  }
}

function told(checked: CheckedRecording, sweeps: SweepToldAgain[]): JobToldAgain {
  const { header, opened, fingerprint, recomputation, refused } = checked;
  return {
    job: header?.job ?? null,
    number: opened?.start.job ?? null,
    bench: header?.bench ?? null,
    began: opened?.wallClock ?? null,
    version: header?.program ?? null,
    isOurVersion: checked.isOurVersion,
    simulated: opened?.simulated ?? false,
    lines: fingerprint.lines,
    fingerprint: fingerprint.sha256,
    sweeps,
    same: recomputation?.same ?? 0,
    different: recomputation?.different ?? 0,
    differences: (recomputation?.differences ?? []).map((difference) => ({
      line: difference.line,
      what: sayDifference(difference),
    })),
    signatures: checked.signatures,
    refused: refused && { line: refused.line, fault: refused.fault },
  };
}
