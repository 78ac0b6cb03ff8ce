import type { SimulatorClock } from './clock.ts';
import type { DemoBench } from './demo-bench.ts';

/** A pause at each end, as a hand takes to turn the crank round. */
const PAUSE_MS = 1_000;
const LOOKED_AT_EVERY_MS = 100;

/** Traverses the bar from end to end and back until stopped. */
export function playBackAndForth(
  bench: DemoBench,
  clock: SimulatorClock,
  mmPerSecond: number,
): () => void {
  let stoodSinceMs = clock.nowMs();
  return clock.every(LOOKED_AT_EVERY_MS, () => {
    const { traversing, tableMm, leftMm, rightMm } = bench.section();
    if (traversing) {
      stoodSinceMs = clock.nowMs();
      return;
    }
    if (clock.nowMs() - stoodSinceMs < PAUSE_MS) return;
    const toMm = tableMm < (leftMm + rightMm) / 2 ? rightMm : leftMm;
    bench.act({ act: 'traverse', toMm, mmPerSecond });
  });
}
