import type { DrawnChange } from './page-watch.ts';
import type { WrittenLine } from './pty-writer.ts';

export interface Latencies {
  /** From a reading's last byte to its number drawn; readings that were drawn themselves, ms. */
  drawn: number[];
  /** From a reading's last byte to its number or a newer one drawn: every reading, ms. */
  orNewer: number[];
}

/** `changes` in the order they were drawn; `lines` in the order they were written. */
export function latenciesOf(
  lines: readonly WrittenLine[],
  changes: readonly DrawnChange[],
): Latencies {
  const drawnAtMs = new Map(changes.map(({ count, atMs }) => [count, atMs]));
  const latencies: Latencies = { drawn: [], orNewer: [] };
  let next = 0;
  for (const { count, atMs } of lines) {
    const own = drawnAtMs.get(count);
    if (own !== undefined) latencies.drawn.push(own - atMs);
    while (next < changes.length && changes[next]!.count < count) next += 1;
    const shown = changes[next];
    if (shown) latencies.orNewer.push(shown.atMs - atMs);
  }
  return latencies;
}

export function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
}
