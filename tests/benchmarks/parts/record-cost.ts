import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { JobJournal } from '@taptrue/server/records/journal/job-journal.ts';
import { type Row, tell, whole } from '../row.ts';
import { sweptBytes } from '../swept-bytes.ts';
import { WholeWay } from '../whole-way.ts';

const READINGS_PER_SECOND = 1_000;
const SECONDS = 12;
const ROUNDS = 2;
/** Compiling is done with by then, and the store's thread is running. */
const WARM_UP_SECONDS = 3;
const GULP_EVERY_MS = 10;
const AIM_SHARE = 5;

// Taken before the simulated timers are put in their place: the bytes come in real time here.
const realSetTimeout = setTimeout;
const rest = (ms: number) => new Promise<void>((resolve) => void realSetTimeout(resolve, ms));

/** Processor time of the whole process, its threads too, while readings come in real time, ms. */
async function spent(
  room: JobJournal | null,
  seconds: number,
): Promise<{ ms: number; readings: number }> {
  const way = new WholeWay((entry) => room?.add(entry));
  const { gulps } = sweptBytes(seconds * READINGS_PER_SECOND, READINGS_PER_SECOND, GULP_EVERY_MS);
  const startedAtMs = performance.now();
  const before = process.cpuUsage();
  for (const gulp of gulps) {
    const waitMs = startedAtMs + gulp.atMs - performance.now();
    if (waitMs > 1) await rest(waitMs);
    way.push(gulp);
  }
  await room?.flush();
  const { user, system } = process.cpuUsage(before);
  way.close();
  return { ms: (user + system) / 1000, readings: way.readings };
}

const folder = await mkdtemp(join(tmpdir(), 'taptrue-record-cost-'));
const room = new JobJournal(folder, (fault) => {
  if (fault) throw new Error(`${fault.what} ${fault.got}`);
});
await room.whereItStood();
await spent(null, WARM_UP_SECONDS);
await spent(room, WARM_UP_SECONDS);
let withRecord = 0;
let without = 0;
let readings = WARM_UP_SECONDS * READINGS_PER_SECOND;
for (let round = 0; round < ROUNDS; round += 1) {
  without += (await spent(null, SECONDS)).ms;
  const recorded = await spent(room, SECONDS);
  withRecord += recorded.ms;
  readings += recorded.readings;
}
await room.close();
const { size } = await stat(room.path);
await rm(folder, { recursive: true, force: true });

const share = (ms: number) => (100 * ms) / (ROUNDS * SECONDS * 1000);
const cost = share(withRecord - without);
const rows: Row[] = [
  {
    what: 'share of a core without record',
    value: `${share(without).toFixed(1)} %`,
    beside: 'bytes to messages, as the service does it',
  },
  {
    what: 'share of a core with record, all threads',
    value: `${share(withRecord).toFixed(1)} %`,
    beside: `recording costs ${cost.toFixed(1)} %, aim below ${AIM_SHARE} %: ${cost < AIM_SHARE ? 'kept' : 'missed'}`,
  },
  {
    what: 'bytes of the store a reading',
    value: (size / readings).toFixed(1),
    beside: `${whole(size / 1024)} kB for ${whole(readings)} readings`,
  },
];
tell({
  title: `Recording at ${whole(READINGS_PER_SECOND)} readings a second, ${ROUNDS} rounds of ${SECONDS} s each way`,
  rows,
  notes: ['Processor time, which a busy machine raises less than time by the clock.'],
});
