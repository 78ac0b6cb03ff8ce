import { faultLine, PROTOCOL_VERSION, type SweepResult } from '@taptrue/protocol';
import type { JobToldAgain, SweepToldAgain } from '../records/exchange/told-again.ts';
import { textTable } from './text-table.ts';

/** Differences that are printed; the rest says nothing more. */
const MOST_PRINTED = 20;

function angle(result: SweepResult | null): string {
  if (!result) return 'no line';
  const { deviationArcsec, outOfTrueArcsecExpanded } = result;
  const sign = deviationArcsec < 0 ? '−' : '+';
  const plusMinus =
    outOfTrueArcsecExpanded === null ? '' : ` ± ${outOfTrueArcsecExpanded.toFixed(1)}`;
  return `${sign}${Math.abs(deviationArcsec).toFixed(1)}${plusMinus}″`;
}

function row({ sweep, stage, recorded, recomputed, difference }: SweepToldAgain): string[] {
  const verdict = (result: SweepResult | null) => result?.verdict ?? '';
  return difference === null
    ? [String(sweep), stage, angle(recorded), verdict(recorded), 'the same']
    : [
        String(sweep),
        stage,
        `${angle(recorded)}, now ${angle(recomputed)}`,
        `${verdict(recorded)}, now ${verdict(recomputed)}`,
        `differs at ${difference}`,
      ];
}

/** One job told again, as text: each sweep, what differs, the signatures, what is refused. */
export function toldAgainLines(job: JobToldAgain): string[] {
  const title =
    job.number === null
      ? `A recording that could not be read${job.job === null ? '' : ` (${job.job})`}`
      : `Job ${job.number} of bench "${job.bench}", begun ${job.began}${job.simulated ? ', SIMULATED' : ''}, ${job.lines} lines (${job.job})`;
  const lines = [title];
  if (job.version !== null && !job.isOurVersion)
    lines.push(`  recorded by version ${job.version}; this is ${PROTOCOL_VERSION}`);
  if (job.sweeps.length > 0) {
    const head = ['sweep', 'stage', 'off target', 'verdict', 'told again'];
    lines.push(...textTable(head, job.sweeps.map(row)).split('\n').map(indent));
  }
  for (const { line, what } of job.differences.slice(0, MOST_PRINTED))
    lines.push(`  line ${line ?? '—'}: ${what}`);
  if (job.different > MOST_PRINTED)
    lines.push(`  and ${job.different - MOST_PRINTED} more that differ`);
  for (const { who, role, wallClock, fingerprint, holds } of job.signatures) {
    const word = holds ? 'holds' : 'does NOT fit the lines before it';
    lines.push(`  ${role} ${who}, ${wallClock}: fingerprint ${fingerprint} ${word}`);
  }
  if (job.refused) lines.push(`  ${faultLine(job.refused.fault)}`);
  else if (job.different === 0 && job.lines > 0)
    lines.push(`  ${job.same} results come out of the readings again, to the last digit.`);
  return lines;
}

function indent(line: string): string {
  return `  ${line}`;
}
