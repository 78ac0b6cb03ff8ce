import { type ChildProcess, spawn } from 'node:child_process';
import { rm } from 'node:fs/promises';
import { createServer, type Server, type Socket } from 'node:net';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import type { RecordEntry } from '@taptrue/protocol';
import { recompute } from '@taptrue/server/records/journal/recompute.ts';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { newFolder, recordsIn, until } from '../integration/service/running-service.ts';

/** Times a bench is killed; `npm run endurance` does it two hundred times, every run of the tests a few. */
const KILLS = Number(process.env.TAPTRUE_KILLS ?? 4);
const SEED = Number(process.env.TAPTRUE_SEED ?? 20261125);
const LONGEST_LIFE_MS = 1200;
/** More than a hand, or a script, keys in within the longest life. */
const STATIONS_A_LIFE = 100_000;
/** A bench takes seconds to load where the machine is busy. */
const WITHIN_MS = 60_000 + 30_000 * KILLS;
/** Streamed readings are on disk within 250 ms; a busy machine may wake the service late. */
const LOST_AT_MOST_MS = Number(process.env.TAPTRUE_LOST_AT_MOST_MS ?? 2000);
const CHILD = fileURLToPath(new URL('./kill-child.ts', import.meta.url));

const lives = fc.sample(fc.integer({ min: 5, max: LONGEST_LIFE_MS }), {
  numRuns: KILLS,
  seed: SEED,
});

let folder = '';
const alive = new Set<ChildProcess>();
beforeEach(async () => {
  folder = await newFolder();
});
afterEach(async () => {
  for (const child of alive) child.kill('SIGKILL');
  await rm(folder, { recursive: true, force: true });
});

/** A bench in a process of its own, loaded and waiting. */
class Bench {
  readonly #child: ChildProcess;
  readonly #lines: string[] = [];
  errors = '';
  isGone = false;

  constructor() {
    this.#child = spawn(process.execPath, ['--import', 'tsx', CHILD]);
    alive.add(this.#child);
    createInterface(this.#child.stdout!).on('line', (line) => this.#lines.push(line));
    this.#child.stderr!.on('data', (chunk) => {
      this.errors += String(chunk);
    });
    this.#child.on('close', () => {
      this.isGone = true;
      alive.delete(this.#child);
    });
  }

  async begin(what: object): Promise<void> {
    await this.#said('warm');
    this.#child.stdin!.write(`${JSON.stringify(what)}\n`);
    await this.#said('open');
  }

  get opened() {
    const [ms, job, sweep, samples] = this.#line('open')!.split(' ').slice(1).map(Number);
    return { ms: ms!, job: job!, sweep: sweep!, samples: samples! };
  }

  get acknowledged(): number[] {
    return this.#lines
      .filter((line) => line.startsWith('ack '))
      .map((line) => Number(line.slice(4)));
  }

  async kill(): Promise<void> {
    this.#child.kill('SIGKILL');
    await until(() => this.isGone, 'its end');
  }

  #line(start: string): string | undefined {
    return this.#lines.find((line) => line.startsWith(start));
  }

  async #said(start: string): Promise<void> {
    await until(() => this.#line(start) !== undefined || this.isGone, start, 60_000);
    if (this.#line(start) === undefined) throw new Error(`it ended: ${this.errors}`);
  }
}

const later = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** Lives one after the other on one folder; the next is loaded while one runs. */
async function livesOn(
  what: () => object,
  each: (bench: Bench, killedAtMs: number) => void,
): Promise<void> {
  let next = new Bench();
  for (const [index, lifeMs] of lives.entries()) {
    const bench = next;
    await bench.begin({ folder, ...what() });
    if (index + 1 < lives.length) next = new Bench();
    await later(lifeMs);
    const killedAtMs = performance.now();
    await bench.kill();
    each(bench, killedAtMs);
  }
}

/** Every job of the folder recomputes to what it recorded. */
function expectSound(records: RecordEntry[][]): void {
  for (const [opened, ...rest] of records) {
    if (opened?.entry !== 'opened') throw new Error('a record without a beginning');
    const times = rest.map(({ atMs }) => atMs);
    // Readings carry the time their last byte came; an entry beside them may be a moment later.
    for (let at = 1; at < times.length; at += 1)
      expect(times[at]! - times[at - 1]!).toBeGreaterThan(-1000);
    expect(recompute(opened, rest).differences).toEqual([]);
  }
}

describe(`a bench killed ${KILLS} times (seed ${SEED})`, () => {
  test('while stations are keyed in: none that was acknowledged is missing, and the job goes on', {
    timeout: WITHIN_MS,
  }, async () => {
    const acknowledged: number[] = [];
    const openMs: number[] = [];
    let takenUp = 0;
    let from = 0;
    let before: { job: number } | null = null;
    await livesOn(
      () => {
        // A number of its own for every life, also after one that ended with a station kept and not acknowledged.
        from += STATIONS_A_LIFE;
        return { keyedFrom: from };
      },
      (bench) => {
        acknowledged.push(...bench.acknowledged);
        openMs.push(bench.opened.ms);
        if (before && bench.opened.job === before.job) takenUp += 1;
        before = bench.opened;
      },
    );
    const records = await recordsIn(join(folder, 'mill'));
    const kept = records.flat().flatMap((entry) => {
      if (entry.entry !== 'command' || entry.command.kind !== 'take station') return [];
      return entry.answer.ok ? [Math.round(Number(entry.command.keyed) * 10_000)] : [];
    });
    const keptOnce = new Set(kept);
    expect(keptOnce.size).toBe(kept.length);
    expect(acknowledged.filter((n) => !keptOnce.has(n))).toEqual([]);
    expect(acknowledged.length).toBeGreaterThan(KILLS);
    expectSound(records);
    console.log(
      `keyed: ${KILLS} kills, ${acknowledged.length} stations acknowledged, 0 missing, ${kept.length - acknowledged.length} kept beyond; ` +
        `job taken up ${takenUp} times; open in ${openMs.sort((a, b) => a - b)[openMs.length >> 1]} ms (median), ${Math.max(...openMs)} ms (worst)`,
    );
  });

  test('while a sweep streams at 1,000 readings a second: what is missing is younger than the promise', {
    timeout: WITHIN_MS,
  }, async () => {
    const indicator = await Talker.start(() => 0.1);
    const readout = await Talker.start((n) => (n * 0.02) % 100);
    const missingMs: number[] = [];
    const openMs: number[] = [];
    const lifeSpans: { from: number; to: number; killedAtMs: number }[] = [];
    let from = 0;
    await livesOn(
      () => {
        from = indicator.sent.length;
        return { ports: [indicator.port, readout.port] };
      },
      (bench, killedAtMs) => {
        openMs.push(bench.opened.ms);
        const to = indicator.sent.filter(({ atMs }) => atMs <= killedAtMs).length;
        lifeSpans.push({ from, to, killedAtMs });
      },
    );
    const records = await recordsIn(join(folder, 'mill'));
    const readings = records.flat().filter((entry) => entry.entry === 'reading');
    // The last decimals of a value are the number it was sent as.
    const keptNumbers = readings.flatMap((entry) =>
      entry.entry === 'reading' && entry.link === 'indicator' && entry.reading.value !== null
        ? [Math.round((entry.reading.value - 0.1) * 1e7)]
        : [],
    );
    for (const { from, to, killedAtMs } of lifeSpans) {
      // The first line after opening is dropped, as always: nobody knows whether it was a whole one.
      const kept = keptNumbers.filter((n) => n >= from && n < to);
      const lost = indicator.sent[Math.max(from, ...kept) + 1];
      if (lost && Math.max(from, ...kept) + 1 < to) missingMs.push(killedAtMs - lost.atMs);
    }
    await Promise.all([indicator.stop(), readout.stop()]);
    expect(new Set(keptNumbers).size).toBe(keptNumbers.length);
    expectSound(records);
    console.log(
      `streamed: ${KILLS} kills, ${readings.length} readings kept; open in ${openMs.sort((a, b) => a - b)[openMs.length >> 1]} ms (median), ${Math.max(...openMs)} ms (worst); ` +
        `the oldest reading lost was ${Math.round(Math.max(...missingMs, 0))} ms old when the bench was killed`,
    );
    expect(Math.max(...missingMs, 0)).toBeLessThan(LOST_AT_MOST_MS);
  });
});

/** A device on a socket that sends a thousand numbered readings a second to whoever listens. */
class Talker {
  readonly sent: { atMs: number }[] = [];
  readonly #server: Server;
  readonly #sockets = new Set<Socket>();
  readonly #timer: NodeJS.Timeout;

  private constructor(server: Server, value: (n: number) => number) {
    this.#server = server;
    server.on('connection', (socket) => {
      this.#sockets.add(socket);
      socket.on('error', () => undefined);
      socket.on('close', () => this.#sockets.delete(socket));
    });
    let owedFrom = performance.now();
    this.#timer = setInterval(() => {
      const nowMs = performance.now();
      if (this.#sockets.size === 0) {
        owedFrom = nowMs;
        return;
      }
      let text = '';
      for (; owedFrom < nowMs; owedFrom += 1) {
        const n = this.sent.length;
        this.sent.push({ atMs: nowMs });
        text += `+${(value(n) + n * 1e-7).toFixed(7).padStart(11, '0')} , MM\r\n`;
      }
      for (const socket of this.#sockets) socket.write(text);
    }, 10);
  }

  static async start(value: (n: number) => number): Promise<Talker> {
    const server = createServer();
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    return new Talker(server, value);
  }

  get port(): number {
    const address = this.#server.address();
    return typeof address === 'object' && address ? address.port : 0;
  }

  async stop(): Promise<void> {
    clearInterval(this.#timer);
    for (const socket of this.#sockets) socket.destroy();
    await new Promise((resolve) => this.#server.close(resolve));
  }
}
