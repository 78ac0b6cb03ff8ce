import type { LinkName } from '@taptrue/protocol';

/** A bar of 5 in, swept once from its left end, out of true by 0.1 mm from end to end. */
export const BAR_MM = 127;
const OUT_OF_TRUE_MM = 0.1;

/** What a port handed over at once, and when. */
export interface Gulp {
  link: LinkName;
  atMs: number;
  bytes: Buffer;
}

export interface SweptBytes {
  gulps: Gulp[];
  /** Lines in all of them, indicator and readout together. */
  lines: number;
  endsAtMs: number;
}

/** Last digit of either device trembles by one, as on any bench; a fixed pattern, the same in every run. */
function tremble(index: number): number {
  return ((index * 2_654_435_761) >>> 7) % 3;
}

/**
 * Bytes of an indicator ("signed-decimal") and a readout ("axis-readout") while the bar is crept along once,
 * interleaved by time: as many lines of one as of the other, a gulp of each every `gulpEveryMs`.
 */
export function sweptBytes(lines: number, linesPerSecond: number, gulpEveryMs: number): SweptBytes {
  const perGulp = Math.max(1, Math.round((linesPerSecond * gulpEveryMs) / 1000 / 2));
  const gulps: Gulp[] = [];
  const pairs = Math.floor(lines / 2);
  let atMs = 0;
  for (let first = 0; first < pairs; first += perGulp) {
    const last = Math.min(first + perGulp, pairs);
    let readout = '';
    let indicator = '';
    for (let index = first; index < last; index += 1) {
      const share = index / pairs;
      const xMm = share * BAR_MM + tremble(index) * 0.001;
      const readingMm = share * OUT_OF_TRUE_MM + tremble(index + 7) * 0.0001;
      readout += `X= +${xMm.toFixed(3)} MM\r\n`;
      indicator += `+${readingMm.toFixed(4)} mm\r\n`;
    }
    gulps.push({ link: 'readout', atMs, bytes: Buffer.from(readout, 'latin1') });
    atMs += gulpEveryMs / 2;
    gulps.push({ link: 'indicator', atMs, bytes: Buffer.from(indicator, 'latin1') });
    atMs += gulpEveryMs / 2;
  }
  return { gulps, lines: pairs * 2, endsAtMs: atMs };
}
