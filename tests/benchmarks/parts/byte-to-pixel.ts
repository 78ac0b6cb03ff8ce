import { existsSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { launchChromium } from '../../browser/find-chromium.ts';
import { barePipe, type Pipe } from '../bare-pipe.ts';
import { type Latencies, latenciesOf, percentile } from '../latencies.ts';
import { changesWhile } from '../page-watch.ts';
import { type LineWriter, startWriter } from '../pty-lines.ts';
import { type Row, ratio, tell } from '../row.ts';
import { BUILT_PAGE, wholePipe } from '../whole-pipe.ts';

const TITLE = 'Last byte written to a pseudo-terminal -> number drawn in Chromium, 100 readings/s';
const EVERY_MS = 10;
const LINES = 900;
/** A page that has just been opened still compiles; what it shows in its first second is not counted. */
const WARM_UP_LINES = 150;
const ROUNDS = 2;
const AIM_P50_MS = 15;
const AIM_P99_MS = 35;
/** From the last line written to its frame. */
const LAST_FRAME_MS = 200;

function skip(why: string): void {
  tell({ title: TITLE, rows: [], notes: [`Skipped: ${why}`] });
}

let nextCount = 1;

async function leg(
  browser: Browser,
  writer: LineWriter,
  open: (path: string) => Promise<Pipe>,
): Promise<Latencies & { clockWithinMs: number }> {
  const pipe = await open(writer.path);
  const page = await browser.newPage();
  try {
    await page.goto(pipe.url);
    await writer.write({ firstCount: nextCount, lines: WARM_UP_LINES, everyMs: EVERY_MS });
    nextCount += WARM_UP_LINES;
    const { changes, clockWithinMs, result } = await changesWhile(page, async () => {
      const written = await writer.write({
        firstCount: nextCount,
        lines: LINES,
        everyMs: EVERY_MS,
      });
      await new Promise((resolve) => setTimeout(resolve, LAST_FRAME_MS));
      return written;
    });
    nextCount += LINES;
    return { ...latenciesOf(result, changes), clockWithinMs };
  } finally {
    await page.close();
    await pipe.close();
  }
}

function together(legs: readonly Latencies[]): Latencies {
  return {
    drawn: legs.flatMap((one) => one.drawn),
    orNewer: legs.flatMap((one) => one.orNewer),
  };
}

function figures(values: readonly number[]): string {
  return [0.5, 0.95, 0.99, 1].map((share) => percentile(values, share).toFixed(1)).join(' / ');
}

function rowsOf(bare: Latencies, whole: Latencies): Row[] {
  const [p50, p99] = [percentile(whole.drawn, 0.5), percentile(whole.drawn, 0.99)];
  const kept = p50 <= AIM_P50_MS && p99 <= AIM_P99_MS;
  const times = (share: number) =>
    ratio(percentile(whole.drawn, share), percentile(bare.drawn, share));
  return [
    {
      what: 'ms p50 / p95 / p99 / most, this product',
      value: figures(whole.drawn),
      beside: `aim p50 ${AIM_P50_MS}, p99 ${AIM_P99_MS} or less: ${kept ? 'kept' : 'missed'}`,
    },
    {
      what: 'the same, bare pipe of the same libraries',
      value: figures(bare.drawn),
      beside: `this product takes ${times(0.5)} at p50, ${times(0.99)} at p99`,
    },
    {
      what: 'to this reading or a newer one, this product',
      value: figures(whole.orNewer),
      beside: `${whole.drawn.length} of ${whole.orNewer.length} drawn themselves`,
    },
    {
      what: 'to this reading or a newer one, bare pipe',
      value: figures(bare.orNewer),
      beside: `${bare.drawn.length} of ${bare.orNewer.length} drawn themselves`,
    },
  ];
}

async function measure(browser: Browser, writer: LineWriter): Promise<void> {
  const legs = { bare: [] as Latencies[], whole: [] as Latencies[] };
  let clockWithinMs = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    for (const [name, open] of [['bare', barePipe] as const, ['whole', wholePipe] as const]) {
      const measured = await leg(browser, writer, open);
      legs[name].push(measured);
      clockWithinMs = Math.max(clockWithinMs, measured.clockWithinMs);
    }
  }
  tell({
    title: TITLE,
    rows: rowsOf(together(legs.bare), together(legs.whole)),
    notes: [
      `Drawn: the frame with the number is painted and handed to the compositor. Clocks agree within ${clockWithinMs.toFixed(1)} ms.`,
    ],
  });
}

async function run(): Promise<void> {
  if (!existsSync(BUILT_PAGE)) return skip('the page is not built; npm run build makes it.');
  const writer = await startWriter();
  if ('why' in writer) return skip(writer.why);
  try {
    const browser = await launchChromium().catch((error: unknown) => String(error));
    if (typeof browser === 'string') return skip(browser);
    try {
      await measure(browser, writer);
    } finally {
      await browser.close();
    }
  } finally {
    await writer.stop();
  }
}

await run();
