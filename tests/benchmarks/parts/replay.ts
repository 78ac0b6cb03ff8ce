import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ReplayEngine } from '@taptrue/server/records/replay/replay-engine.ts';
import { subjectOf } from '@taptrue/server/records/replay/replay-subject.ts';
import type { Database } from '@taptrue/server/records/store/database.ts';
import { openStoreToRead, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { chunkHeads, chunkLines } from '@taptrue/server/records/store/read-record.ts';
import { BenchService } from '@taptrue/server/service/bench-service.ts';
import { percentile } from '../latencies.ts';
import { openedOnPage } from '../opened-on-page.ts';
import { type RecordedSweep, recordSweep } from '../recorded-sweep.ts';
import { type Row, ratio, tell, whole } from '../row.ts';
import { countOf, monotonicMs, timedLines } from '../timed-lines.ts';

const READINGS = 1_000_000;
const PER_SECOND = 1_000;
const SPEED = 50;
/** Pixels of the widest usual screen. */
const COLUMNS = 1920;
const AIM_OPEN_MS = 1000;
/** Told flat out to see how many entries a second can be told. */
const TOLD_MS_OF_RECORD = 200_000;
const LIVE_EVERY_MS = 10;
const LIVE_SECONDS = 8;
const TIMES_OPENED = 5;

const rest = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const name = 'replay';
const folder = await mkdtemp(join(tmpdir(), 'taptrue-replay-'));
const path = join(folder, name, STORE_FILE);
await mkdir(join(folder, name), { recursive: true });
const recorded = recordSweep(path, READINGS, PER_SECOND);

/** Processor time of `work`, s: a busy machine raises it less than time by the clock. */
function spentS(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
}

/** Entries a second that a bench can be told, and lines a second that are only read. */
function flatOut(db: Database, { job }: RecordedSweep): { told: number; read: number } {
  const heads = chunkHeads(db, job).filter(({ firstAtMs }) => firstAtMs < TOLD_MS_OF_RECORD);
  const entries = heads.reduce((sum, head) => sum + head.entries, 0);
  const readS = spentS(() => {
    for (const { seq } of heads) {
      for (const line of chunkLines(db, { job, seq }).split('\n')) if (line) JSON.parse(line);
    }
  });
  const found = subjectOf(db, { id: 'r', job, sweep: null });
  if (!found.ok) throw new Error(found.fault.what);
  const opened = ReplayEngine.open(found.subject);
  if (!opened.ok) throw new Error(opened.fault.what);
  opened.engine.move({ move: 'to', atMs: TOLD_MS_OF_RECORD }, 0);
  const toldS = spentS(() => {
    while (opened.engine.advance(0, () => true));
  });
  return { told: entries / toldS, read: entries / readS };
}

/** From the last byte written to the state that holds it, every reading, ms. */
async function liveLatencies(
  service: BenchService,
  device: Awaited<ReturnType<typeof timedLines>>,
) {
  const seen = new Map<number, number>();
  let last = 0;
  const stop = service.store.onChange(() => {
    const mm = service.store.get('live').indicator?.valueMm;
    if (mm == null) return;
    const count = countOf(mm);
    if (count === last) return;
    last = count;
    seen.set(count, monotonicMs());
  });
  await rest(LIVE_SECONDS * 1000);
  stop();
  const written = await device.written();
  return [...seen].flatMap(([count, atMs]) => {
    const from = written[count];
    return from === undefined ? [] : [atMs - from];
  });
}

const db = openStoreToRead(path);
const { told, read } = flatOut(db, recorded);
db.close();

const device = await timedLines(LIVE_EVERY_MS);
const service = await BenchService.start({
  name,
  dataFolder: folder,
  demo: false,
  addresses: [],
  connect: {
    indicator: {
      source: { kind: 'tcp', host: '127.0.0.1', port: device.port },
      shape: 'signed-decimal',
      unit: 'as sent',
      channel: null,
    },
  },
});
const { replays } = service;
const overview = () =>
  replays.overview({ job: recorded.job, fromMs: null, toMs: null, columns: COLUMNS });
async function timed<T>(work: () => Promise<T>): Promise<{ ms: number; value: T }> {
  const startedMs = performance.now();
  const value = await work();
  return { ms: performance.now() - startedMs, value };
}
const open = async () => {
  const opened = await replays.open({ job: recorded.job, sweep: null });
  if (!opened.ok) throw new Error(`${opened.fault.what} ${opened.fault.got}`);
  return replays.get(opened.id)!;
};
// The service makes both threads soon after its start.
const made = await timed(async () => {
  replays.warm();
  await overview();
  (await open()).close();
});
const nextOverview = await timed(overview);
const nextOpen = await timed(open);
const replay = nextOpen.value;

const alone = await liveLatencies(service, device);
await replay.move({ move: 'speed', speed: SPEED });
await replay.move({ move: 'play' });
const beganMs = replay.state.replay!.atMs;
const startedMs = performance.now();
const beside = await liveLatencies(service, device);
const reached = (replay.state.replay!.atMs - beganMs) / (performance.now() - startedMs);
replay.close();
const onPage = await openedOnPage(service, recorded.job, TIMES_OPENED);
await service.close();
await device.stop();
await rm(folder, { recursive: true, force: true });

const needed = (recorded.entries / (READINGS / PER_SECOND)) * SPEED;
const at = (values: number[], share: number) => percentile(values, share).toFixed(2);
function pageRows(): Row[] {
  const what = 'ms from the list of kept jobs to its needle drawn: worst / median';
  if (typeof onPage === 'string') return [{ what, value: 'not measured', beside: onPage }];
  const both = (ms: number[]) => `${whole(Math.max(...ms))} / ${whole(percentile(ms, 0.5))}`;
  const kept = Math.max(...onPage.fromListMs) < AIM_OPEN_MS ? 'kept' : 'missed';
  return [
    {
      what,
      value: both(onPage.fromListMs),
      beside: `${TIMES_OPENED} times; aim below ${whole(AIM_OPEN_MS)}: ${kept}`,
    },
    {
      what: 'the same in a window that never showed the page',
      value: both(onPage.newWindowMs),
      beside: 'the page itself is fetched and compiled first',
    },
    {
      what: 'such a window with nothing recorded, to its gauge drawn',
      value: both(onPage.benchMs),
      beside: 'what a page costs here at all',
    },
  ];
}

const rows: Row[] = [
  {
    what: 'ms to make the threads that read and replay, once',
    value: whole(made.ms),
    beside: 'the service does it five seconds after its start',
  },
  {
    what: 'ms to the whole needle of it',
    value: whole(nextOverview.ms),
    beside: `${COLUMNS} columns of lowest and highest; aim below ${whole(AIM_OPEN_MS)}: ${nextOverview.ms < AIM_OPEN_MS ? 'kept' : 'missed'}`,
  },
  {
    what: 'ms to open its replay',
    value: whole(nextOpen.ms),
    beside: `aim below ${whole(AIM_OPEN_MS)}: ${nextOpen.ms < AIM_OPEN_MS ? 'kept' : 'missed'}`,
  },
  ...pageRows(),
  {
    what: 'entries told to a bench in a second of a core',
    value: whole(told),
    beside: `x${SPEED} needs ${whole(needed)}: ${told >= needed ? 'kept' : 'missed'}`,
  },
  {
    what: 'the same only inflated and parsed',
    value: whole(read),
    beside: `${ratio(read, told)} the telling`,
  },
  {
    what: `speed kept of x${SPEED}, beside the live bench`,
    value: `x${reached.toFixed(1)}`,
    beside: 'on a busy machine less',
  },
  {
    what: 'ms from byte to state, no replay: p50 / p99',
    value: `${at(alone, 0.5)} / ${at(alone, 0.99)}`,
    beside: `${whole(alone.length)} readings`,
  },
  {
    what: `ms from byte to state, a x${SPEED} replay beside it: p50 / p99`,
    value: `${at(beside, 0.5)} / ${at(beside, 0.99)}`,
    beside: `${whole(beside.length)} readings`,
  },
];
tell({
  title: `Replay of a sweep of ${whole(recorded.readings)} readings, ${whole(PER_SECOND)} a second`,
  rows,
  notes: [],
});
