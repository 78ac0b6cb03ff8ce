import {
  type BenchState,
  firstSetup,
  PROTOCOL_VERSION,
  type RecordOverview,
  type ReplayFigures,
  type ReplaySection,
} from '@taptrue/protocol';
import { exampleResult } from './example-parts.ts';
import { resultNotTrue } from './example-states.ts';

const BEGINS_MS = 10_000;
const ENDS_MS = 130_000;

function figures(change: Partial<ReplayFigures> = {}): ReplayFigures {
  const { outOfTrueArcsec, outOfTrueArcsecExpanded, endToEndMm } = exampleResult();
  const { tapToReadingMm, verdict, sentence } = exampleResult();
  return {
    outOfTrueArcsec,
    outOfTrueArcsecExpanded,
    endToEndMm,
    tapToReadingMm,
    verdict,
    sentence,
    ...change,
  };
}

/** A job of two minutes, in its middle, standing still. */
export function exampleReplay(change: Partial<ReplaySection> = {}): ReplaySection {
  const { pivot, limit, stylus, rises, decisionRule } = firstSetup();
  return {
    id: 'r1',
    job: 'job-7',
    jobNumber: 7,
    sweep: null,
    atMs: 70_000,
    beginsMs: BEGINS_MS,
    endsMs: ENDS_MS,
    wallClock: '2026-03-02T14:05:00.000Z',
    speed: 1,
    isPlaying: false,
    reachedSpeed: null,
    goingThere: null,
    whatIf: [],
    recordedSetup: { pivot, limit, stylus, rises, decisionRule },
    compared: { sweep: 1, isSame: true, recorded: figures(), recomputed: figures() },
    same: 6,
    different: 0,
    why: '',
    recordedVersion: PROTOCOL_VERSION,
    version: PROTOCOL_VERSION,
    piecesDamaged: 0,
    ...change,
  };
}

export function replayed(): BenchState {
  return { ...resultNotTrue(), replay: exampleReplay() };
}

/** The same with twice the limit tried: its verdict is another one. */
export function replayedWhatIf(): BenchState {
  const state = resultNotTrue();
  return {
    ...state,
    setup: { ...state.setup, limit: { kind: 'end to end', mm: 0.254, overMm: null } },
    replay: exampleReplay({
      sweep: 1,
      whatIf: ['limit'],
      different: 1,
      why: 'The setup is tried otherwise than recorded.',
      compared: {
        sweep: 1,
        isSame: false,
        recorded: figures(),
        recomputed: figures({ verdict: 'true' }),
      },
    }),
  };
}

/** A needle that falls, with two sweeps, taps and a change of the clamps, in as many columns as are asked for. */
export function exampleOverview(asked: URLSearchParams): RecordOverview {
  const columns = Number(asked.get('columns'));
  return {
    beginsMs: BEGINS_MS,
    endsMs: ENDS_MS,
    fromMs: BEGINS_MS,
    toMs: ENDS_MS,
    readings: 6000,
    columns: Array.from({ length: columns }, (_, index) => {
      const share = index / columns;
      if (share > 0.6 && share < 0.65) return null;
      const lowMm = Math.sin(share * 9) * 0.05 - share * 0.1;
      return { lowMm, highMm: lowMm + 0.004 };
    }),
    marks: [
      { kind: 'job', atMs: BEGINS_MS, text: 'Job 7 begins.' },
      { kind: 'sweep begins', atMs: 20_000, text: 'Sweep 1 begins, at nipped.' },
      { kind: 'station', atMs: 25_000, text: 'Sweep 1, a station is taken.' },
      { kind: 'sweep ends', atMs: 40_000, text: 'Sweep 1 ends: not true.' },
      { kind: 'parked', atMs: 50_000, text: 'The stylus is parked.' },
      { kind: 'tap', atMs: 55_000, text: 'Tap 1: closer.' },
      { kind: 'tap', atMs: 60_000, text: 'Tap 2: closer.' },
      { kind: 'stage', atMs: 80_000, text: 'The clamps are snug.' },
      { kind: 'sweep begins', atMs: 90_000, text: 'Sweep 2 begins, at snug.' },
      { kind: 'sweep ends', atMs: 110_000, text: 'Sweep 2 ends: true.' },
    ],
    marksLeftOut: 0,
  };
}
