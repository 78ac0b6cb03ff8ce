import type { Fault } from '@taptrue/protocol';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import { Bench } from '../bench/bench.ts';
import type { BenchOptions } from '../bench/bench-options.ts';
import { firstState } from '../bench/first-state.ts';
import { type Clock, clockFrom } from '../devices/transport/clock.ts';
import { JobJournal } from '../records/journal/job-journal.ts';
import { shippedSetUps } from '../records/set-ups/shipped-set-ups.ts';
import { SectionStore } from '../state/section-store.ts';
import { jobNotTakenUp, jobTakenUp, resumeJob, type TakenUp } from './resume-job.ts';
import type { ServiceOptions } from './service-options.ts';

/** A pause longer than this is not reckoned into the record's clock: it says nothing of the measuring. */
const LONGEST_PAUSE_MS = 30 * 24 * 3_600_000;

export const wallClock = () => new Date().toISOString();

/** What a service starts from: its records, its clock, and the bench as it stood or a fresh one. */
export interface Beginning {
  records: JobJournal;
  clock: Clock;
  store: SectionStore;
  /** The bench with the job that was going on, or with a new one that knows what was remembered. */
  takeUp(remembered: BenchOptions['remembered']): Bench;
  /** Who is told of faults of the disk from now on; those so far are told at once. */
  onFault(tell: (fault: Fault | null) => void): void;
}

/** Opens the records of a bench and takes up the job that was going on, if anything was measured in it. */
export async function openKept(options: ServiceOptions, folder: string): Promise<Beginning> {
  let tell: ((fault: Fault | null) => void) | null = null;
  const untold: (Fault | null)[] = [];
  const records = new JobJournal(folder, (fault) => {
    if (tell) tell(fault);
    else untold.push(fault);
  });
  const stood = await records.whereItStood();
  let jobs = stood?.jobs ?? 0;
  const hooks = {
    wallClock,
    record: (entry: Parameters<JobJournal['add']>[0]) => records.add(entry),
    nextJob: () => {
      jobs += 1;
      const stamp = wallClock().replace(/[:.]/g, '-').slice(0, 23);
      return { number: jobs, key: `${stamp}-${process.pid}-${jobs}` };
    },
  };
  const fresh = () => new SectionStore(firstState(options.name, PROTOCOL_VERSION));
  const store = fresh();
  // The simulated vise is another after a restart: a job on it cannot go on.
  let taken: TakenUp | null = null;
  let notTakenUp: Fault | null = null;
  try {
    if (stood && !options.demo) taken = await resumeJob(records, stood, { store, ...hooks });
  } catch (error) {
    notTakenUp = jobNotTakenUp(records.path, error);
  }
  const begin = (from: Omit<Beginning, 'records' | 'onFault'>): Beginning => ({
    ...from,
    records,
    onFault: (now) => {
      tell = now;
      for (const fault of untold.splice(0)) now(fault);
    },
  });
  if (!taken || !stood?.openJob) {
    const clock = clockFrom(0);
    const anew = fresh();
    return begin({
      clock,
      store: anew,
      takeUp: (remembered) => {
        const about = { name: options.name, serviceVersion: PROTOCOL_VERSION, ...hooks };
        const nowMs = clock.now();
        const bench = new Bench(
          anew,
          { ...about, remembered, isSimulated: options.demo, setUps: shippedSetUps },
          nowMs,
        );
        if (notTakenUp) bench.raise('job', notTakenUp, nowMs);
        return bench;
      },
    });
  }
  const { replay } = taken;
  const lastAtMs = Math.max(taken.lastAtMs, stood.lastAtMs);
  const awayMs = pauseMs(taken.clock, lastAtMs);
  // The record's clock goes on behind its last entry; its times only ever rise.
  const clock = clockFrom(Math.ceil(lastAtMs + awayMs - performance.now()) + 1);
  const key = stood.openJob;
  return begin({
    clock,
    store,
    takeUp: () => {
      records.goOn(key, stood.lastSeq);
      replay.goOn();
      const nowMs = clock.now();
      records.add({
        entry: 'resumed',
        atMs: nowMs,
        version: PROTOCOL_VERSION,
        wallClock: wallClock(),
      });
      goOnFrom(replay.bench, store, nowMs);
      replay.bench.raise('job', jobTakenUp({ store }, awayMs), nowMs);
      return replay.bench;
    },
  });
}

/** What cannot have lasted through the pause is ended: devices are gone, a running feed lost its marks. */
function goOnFrom(bench: Bench, store: SectionStore, nowMs: number): void {
  const none = firstState('', '').links.indicator;
  for (const link of ['indicator', 'readout'] as const) bench.linkReport(link, none, nowMs);
  if (store.state.sweep?.feedRunning) bench.command({ kind: 'abandon sweep' }, nowMs);
}

/** How long nothing ran, by the time of day; a clock that was set back says nothing, and counts as no pause. */
function pauseMs(clock: { atMs: number; wallClock: string }, lastAtMs: number): number {
  const lastEpochMs = Date.parse(clock.wallClock) + (lastAtMs - clock.atMs);
  const pause = Date.now() - lastEpochMs;
  return Number.isFinite(pause) ? Math.min(LONGEST_PAUSE_MS, Math.max(0, pause)) : 0;
}
