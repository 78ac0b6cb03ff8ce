/**
 * Every shipped shape at every setting that is tried, with every level of the control lines: how long until
 * the reading on the device's screen is recognised. Simulated time, so the figures are those of an idle
 * machine. Then noise, in many seeds: how often a shape is named. Run by itself:
 * node --import tsx tests/benchmarks/find-every-setting.ts
 */
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { hearNoise } from '../unit/devices/finding/noise.ts';
import {
  LINES_TRIED,
  lookFor,
  rateAt,
  settingsFor,
  wrongIn,
} from '../unit/devices/finding/stranger.ts';

/** Presses of a key, as far apart as a hand makes them. */
const PRESSES_EVERY_MS = 1700;
const NOISE_SEEDS = 25;

/** The promises: a stream of ten a second; all others, or their key is asked for by then. */
const QUICK_WITHIN_MS = 15_000;
const WITHIN_MS = 60_000;

interface Row {
  shape: string;
  searches: number;
  medianS: string;
  slowestS: string;
  late: number;
  wrong: number;
}

const seconds = (ms: number) => (ms / 1000).toFixed(1);

async function rowOf(shape: (typeof SHAPES)[number], readingsPerSecond: number): Promise<Row> {
  const times: number[] = [];
  let wrong = 0;
  let late = 0;
  for (const lines of LINES_TRIED) {
    for (const settings of settingsFor(shape)) {
      const there = {
        shape,
        settings,
        lines,
        readingsPerSecond: rateAt(settings.baudRate, readingsPerSecond, shape),
        consent: shape.trigger === 'asked' ? ('given' as const) : ('refused' as const),
        ...(shape.trigger === 'its own key' && { pressesEveryMs: PRESSES_EVERY_MS }),
      };
      const outcome = await lookFor(there);
      const ms = shape.trigger === 'its own key' ? outcome.keyAskedMs : outcome.foundMs;
      const why = wrongIn(outcome, there, Number.POSITIVE_INFINITY);
      if (why !== '') {
        wrong += 1;
        console.log(`wrong: ${why}`);
        continue;
      }
      const promisedMs = there.readingsPerSecond >= 10 ? QUICK_WITHIN_MS : WITHIN_MS;
      if ((ms ?? Number.POSITIVE_INFINITY) > promisedMs) late += 1;
      times.push(ms ?? 0);
    }
  }
  times.sort((one, other) => one - other);
  return {
    shape: shape.name,
    searches: times.length + wrong,
    medianS: seconds(times[Math.floor(times.length / 2)] ?? 0),
    slowestS: seconds(times.at(-1) ?? 0),
    late,
    wrong,
  };
}

const only = process.argv[2];
for (const [trigger, rate, title] of [
  ['streams', 10, 'streamed, ten a second (or half of what the speed carries): until found'],
  ['streams', 1, 'streamed, one a second: until found'],
  ['asked', 1, 'asked, with leave to ask: until found'],
  ['its own key', 1, 'sent at its key: until the key is asked for'],
] as const) {
  if (only !== undefined && only !== trigger) continue;
  console.log(`\n${title}`);
  const rows: Row[] = [];
  for (const shape of SHAPES.filter((one) => one.trigger === trigger)) {
    rows.push(await rowOf(shape, rate));
  }
  console.table(rows);
}

if (only === undefined || only === 'noise') {
  let searches = 0;
  const named: string[] = [];
  for (const kind of ['any byte', 'printing characters'] as const) {
    for (const bytesPerSecond of [3, 40, 250, 960]) {
      for (let seed = 1; seed <= NOISE_SEEDS; seed += 1) {
        searches += 1;
        const heard = await hearNoise(kind, bytesPerSecond, seed + 1000);
        if (heard.named) named.push(`${kind}, ${bytesPerSecond}/s: ${heard.named}`);
      }
    }
  }
  console.log(`\nnoise: ${searches} searches, ${named.length} named a shape`);
  for (const one of named) console.log(one);
}
