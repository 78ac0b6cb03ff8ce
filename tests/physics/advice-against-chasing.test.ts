import { expect, test } from 'vitest';
import { type DrawnBench, drawBench } from './drawn-bench.ts';
import { chaseZero, followAdvice, GAVE_UP_AFTER, LIMIT_MM, type Outcome } from './methods.ts';

const BENCHES = 1000;

function quantile(sorted: readonly number[], part: number): number {
  return sorted[Math.min(sorted.length - 1, Math.ceil(part * sorted.length) - 1)]!;
}

function summary(outcomes: readonly Outcome[]) {
  const sweeps = outcomes.map((one) => one.sweeps).sort((a, b) => a - b);
  const mean = sweeps.reduce((sum, count) => sum + count, 0) / sweeps.length;
  return { median: quantile(sweeps, 0.5), p95: quantile(sweeps, 0.95), mean };
}

function row(name: string, outcomes: readonly Outcome[]): string {
  const counts = new Array<number>(GAVE_UP_AFTER + 1).fill(0);
  for (const { sweeps } of outcomes) counts[sweeps]! += 1;
  const { median, p95, mean } = summary(outcomes);
  const cells = counts.slice(1).map((count) => String(count).padStart(5));
  return `${name.padEnd(26)}${cells.join('')}   median ${median}, 95 % ${p95}, mean ${mean.toFixed(2)}`;
}

interface Job {
  bench: DrawnBench;
  advice: Outcome;
  chase: Outcome;
  half: Outcome;
}

function report(jobs: readonly Job[], title: string): string[] {
  return [
    `${title} (${jobs.length} benches)`,
    row(
      '  following the advice',
      jobs.map((job) => job.advice),
    ),
    row(
      '  chasing zero',
      jobs.map((job) => job.chase),
    ),
    row(
      '  tapping half out',
      jobs.map((job) => job.half),
    ),
  ];
}

test('over 1,000 benches the advice needs no more sweeps than chasing at the median, and fewer at the 95th percentile', () => {
  const jobs: Job[] = Array.from({ length: BENCHES }, (_, seed) => {
    const bench = drawBench(seed + 1);
    return {
      bench,
      advice: followAdvice(bench),
      chase: chaseZero(bench, 1),
      half: chaseZero(bench, 0.5),
    };
  });
  const header = `${'sweeps needed'.padEnd(26)}${Array.from({ length: GAVE_UP_AFTER }, (_, index) => String(index + 1).padStart(5)).join('')}`;
  const atZeroedEnd = jobs.filter(
    ({ bench }) => Math.abs(bench.truePivotMm - (bench.zeroesLeftFirst ? 0 : 127)) < 15,
  );
  const lines = [
    header,
    ...report(jobs, 'all'),
    ...(['left clamp', 'right clamp', 'swivel', 'anywhere'] as const).flatMap((place) =>
      report(
        jobs.filter(({ bench }) => bench.place === place),
        `pivot: ${place}`,
      ),
    ),
    ...report(atZeroedEnd, 'pivot within 15 mm of the end that is zeroed first'),
  ];
  console.info(lines.join('\n'));

  const advice = summary(jobs.map((job) => job.advice));
  const chase = summary(jobs.map((job) => job.chase));
  const half = summary(jobs.map((job) => job.half));
  expect(advice.median).toBeLessThanOrEqual(chase.median);
  expect(advice.p95).toBeLessThan(chase.p95);
  expect(advice.median).toBeLessThanOrEqual(half.median);
  expect(advice.p95).toBeLessThan(half.p95);
  // Chasing wins where the pivot happens to be the end that is zeroed, and only there.
  const there = (pick: (job: Job) => Outcome) => summary(atZeroedEnd.map(pick)).mean;
  const elsewhere = jobs.filter((job) => !atZeroedEnd.includes(job));
  expect(there((job) => job.chase)).toBeLessThan(there((job) => job.advice));
  expect(summary(elsewhere.map((job) => job.advice)).mean).toBeLessThan(
    summary(elsewhere.map((job) => job.chase)).mean,
  );
  // Nobody who followed the advice gave up. What it calls true is true: the guard lets through 1 in 20 of
  // those that lie at the very limit, so far fewer of all.
  const wrong = jobs.filter(({ advice: { leftMm } }) => leftMm > LIMIT_MM).length;
  console.info(`called true by the advice and beyond the limit: ${wrong} of ${jobs.length}`);
  expect(jobs.every((job) => job.advice.sweeps < GAVE_UP_AFTER)).toBe(true);
  expect(wrong).toBeLessThan(BENCHES / 100);
}, 120_000);
