import { type NoiseKind, noisyLine } from '@taptrue/simulators/noisy-line.ts';
import { passUntil, searchOn } from './found-device.ts';
import { OneClock } from './one-clock.ts';

/** Listening through all settings, slowly as well, and some waiting for a key. The benchmark has many more. */
const LONGEST_MS = 150_000;

/** One search on a line that only picks up noise: the shape it named, or why it ended. */
export async function hearNoise(kind: NoiseKind, bytesPerSecond: number, seed: number) {
  const clock = new OneClock();
  let drawn = seed * 1000;
  const { find } = searchOn({
    clock,
    waitForKeyMs: 10_000,
    pipeFor: () => {
      // Other noise at every setting.
      drawn += 1;
      return noisyLine({ kind, bytesPerSecond, seed: drawn }, clock);
    },
  });
  const questionOf = () => (find.now.step?.kind === 'question' ? find.now.step : null);
  await passUntil(clock, LONGEST_MS, () => questionOf() !== null || find.now.ending !== null);
  const question = questionOf();
  const named = question
    ? `seed ${seed}: ${question.candidate.shape.name} ${question.candidate.sample.text}`
    : '';
  const { ending } = find.now;
  await find.close();
  return { named, fault: ending?.kind === 'nothing' ? ending.fault.code : 'none' };
}
