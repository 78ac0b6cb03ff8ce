import {
  emptyCard,
  firstSetup,
  type JobCard,
  PROTOCOL_VERSION,
  type RecordEntry,
  type RecordEntryOf,
  type Stage,
  type SweepResult,
} from '@taptrue/protocol';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { sweepInputOf } from '@taptrue/server/bench/sweep-input-of.ts';
import { judgeSweep } from '@taptrue/server/measure/verdict/judge-sweep.ts';
import type { RecordBatch } from '@taptrue/server/records/store/record-batch.ts';

const STATIONS_MM = [0, 31.75, 63.5, 95.25, 127];
const SETUP = { ...firstSetup(), rises: 'toward' as const };

/** Readings of a bar that lies out of true by so many seconds of arc, rising toward the operator. */
function pointsAt(arcsec: number, bumpMm: number) {
  const slope = Math.tan((arcsec * Math.PI) / 648_000);
  return STATIONS_MM.map((xMm, index) => ({
    xMm,
    readingMm: -slope * xMm + (index === 2 ? bumpMm : 0),
    samples: 1,
  }));
}

export interface KeptSweepOptions {
  number: number;
  arcsec: number;
  stage?: Stage;
  atMs?: number;
  bumpMm?: number;
}

/** An ended sweep of that angle, judged as the bench judges it. */
export function endedSweep(options: KeptSweepOptions): RecordEntryOf<'sweep ended'> & {
  result: SweepResult;
} {
  const { number, arcsec, stage = 'tight', atMs = 60_000 * number, bumpMm = 0.0004 } = options;
  const points = pointsAt(arcsec, bumpMm);
  const judged = judgeSweep(
    sweepInputOf(
      SETUP,
      [{ pass: 'out', points }],
      'single readings',
      { xMm: -8, malletMm: 147 },
      0.001,
    ),
  );
  if (!judged.ok) throw new Error(judged.noLine.what);
  return {
    entry: 'sweep ended',
    atMs,
    sweep: number,
    stage,
    simulated: false,
    begunAtMs: atMs - 20_000,
    samples: points.length,
    points: points.map((point) => ({ ...point, pass: 'out' })),
    surfacePerReading: -1,
    result: judged.result,
  };
}

export interface KeptJobOptions {
  key: string;
  number?: number;
  startedAt?: string;
  card?: Partial<JobCard>;
  simulated?: boolean;
  entries?: readonly RecordEntry[];
}

/** The record of one job as one batch; the service writes the same in several. */
export function keptJob(options: KeptJobOptions): RecordBatch {
  const { key, number = 1, startedAt = '2026-03-02T08:00:00.000Z', entries = [] } = options;
  const state = firstState('mill', PROTOCOL_VERSION);
  const opened: RecordEntry = {
    entry: 'opened',
    atMs: 0,
    version: PROTOCOL_VERSION,
    wallClock: startedAt,
    bench: 'mill',
    simulated: options.simulated ?? false,
    start: {
      key,
      job: number,
      setup: SETUP,
      stage: 'nipped',
      nudges: state.nudges,
      links: state.links,
      latest: { indicator: null, readout: null },
      card: { ...emptyCard(), ...options.card },
    },
  };
  const all = [opened, ...entries];
  return {
    job: key,
    seq: 1,
    lines: `${all.map((entry) => JSON.stringify(entry)).join('\n')}\n`,
    entries: all.length,
    readings: 0,
    firstAtMs: 0,
    lastAtMs: all.at(-1)!.atMs,
    lowMm: null,
    highMm: null,
  };
}
