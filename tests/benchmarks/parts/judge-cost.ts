import { firstSetup } from '@taptrue/protocol';
import type { TakenPass } from '@taptrue/server/bench/sample-sources.ts';
import { sweepInputOf } from '@taptrue/server/bench/sweep-input-of.ts';
import { judgeSweep } from '@taptrue/server/measure/verdict/judge-sweep.ts';
import { ratio, tell } from '../row.ts';
import { BAR_MM } from '../swept-bytes.ts';

/** A sweep is judged ten times a second while it is taken. */
const JUDGED_EVERY_MS = 100;
const WARM_UP = 200;
const TIMES = 500;

/** Out and back over the bar, with noise that repeats: 0.1 mm end to end, 1 um of scatter, 2 um of lag. */
function sweptPasses(binsPerPass: number): TakenPass[] {
  return (['out', 'back'] as const).map((pass) => ({
    pass,
    points: Array.from({ length: binsPerPass }, (_, index) => {
      const share = (pass === 'out' ? index : binsPerPass - 1 - index) / (binsPerPass - 1);
      const noiseMm = (((index * 2_654_435_761) >>> 9) % 1000) / 1_000_000;
      const lagMm = pass === 'out' ? 0 : 0.002;
      return { xMm: share * BAR_MM, readingMm: share * 0.1 + noiseMm + lagMm, samples: 20 };
    }),
  }));
}

function costMs(points: number): { p50: number; p99: number } {
  const setup = { ...firstSetup(), rises: 'toward' as const };
  const input = sweepInputOf(
    setup,
    sweptPasses(points / 2),
    'bin means',
    { xMm: 0, malletMm: 147 },
    0.0001,
  );
  const tookMs: number[] = [];
  for (let time = 0; time < WARM_UP + TIMES; time += 1) {
    const startedAtMs = performance.now();
    const judged = judgeSweep(input);
    const ms = performance.now() - startedAtMs;
    if (!judged.ok) throw new Error(judged.noLine.what);
    if (time >= WARM_UP) tookMs.push(ms);
  }
  tookMs.sort((a, b) => a - b);
  return { p50: tookMs[TIMES / 2]!, p99: tookMs[Math.floor(TIMES * 0.99)]! };
}

const few = costMs(50);
const most = costMs(256);
tell({
  title: 'One judgement: fit, uncertainty, straightness, outliers, tap, verdict',
  rows: [
    { what: 'ms for 50 points, p50', value: few.p50.toFixed(2), beside: '' },
    {
      what: 'ms for 256 points, p50',
      value: most.p50.toFixed(2),
      beside: `p99 ${most.p99.toFixed(2)}; ${ratio(most.p50, few.p50)} that of 50 points`,
    },
    {
      what: 'share of a core while a sweep is taken',
      value: `${((100 * most.p50) / JUDGED_EVERY_MS).toFixed(1)} %`,
      beside: 'judged ten times a second, 256 points',
    },
  ],
  notes: [],
});
