import { type BenchState, emptyCard, firstSetup } from '@taptrue/protocol';
import { emptyPlan } from '@taptrue/server/bench/empty-plan.ts';
import {
  exampleLink,
  exampleReading,
  exampleResult,
  exampleSummary,
  exampleSweep,
  liveLink,
} from './example-parts.ts';

/** Service just started, nothing connected, nothing said. */
export function nothingSet(): BenchState {
  return {
    bench: {
      name: 'Mill 2',
      simulated: false,
      recordFile: '/home/shop/.taptrue/record.sqlite',
      serviceVersion: '0.1.0',
      stage: 'free',
      job: {
        number: 1,
        standing: 'not measured',
        sentence: 'Nothing has been measured yet.',
        next: 'Nudge the saddle so that the bench learns which way the dial counts.',
      },
      cautions: [
        {
          code: 'spindle-stopped' as const,
          text: 'Spindle stopped and in neutral, and nobody else at the controls.',
        },
        { code: 'local-rules' as const, text: 'The rules of your shop come first.' },
      ],
    },
    links: { indicator: exampleLink(), readout: exampleLink() },
    live: { indicator: null, readout: null, ageMs: null, staleAfterMs: 250, xMm: null },
    setup: firstSetup(),
    nudges: {
      y: {
        state: 'not done',
        beforeMm: null,
        afterMm: null,
        movedMm: null,
        factor: null,
        finding: '',
        remembered: false,
      },
      x: { state: 'not done', beforeMm: null, afterMm: null, finding: '', remembered: false },
    },
    sweep: null,
    history: { sweeps: [] },
    tap: null,
    pivot: {
      inUse: 'declared',
      xMm: -8,
      uncertaintyMm: 8,
      declaredMm: -8,
      malletMm: 147,
      question: null,
      sentence: 'The pivot is taken at the left clamp, as declared.',
      evidence: [],
    },
    faults: { standing: [] },
    demo: null,
    plan: emptyPlan(),
    sets: { sets: [] },
    jobs: { jobs: [] },
    timing: { measured: null, whyNot: '' },
    setUps: { rows: [], chosen: null, kept: [] },
    ports: { ports: [], leftOut: 0, watched: true },
    find: null,
    settings: { file: '', fileRead: false, rows: [], fault: null },
    replay: null,
    card: emptyCard(),
  };
}

/** The built-in demo with its dial streaming and the nudge done. */
export function demoReady(): BenchState {
  const state = nothingSet();
  return {
    ...state,
    bench: {
      ...state.bench,
      simulated: true,
      stage: 'nipped',
      job: { ...state.bench.job, next: 'Set the stylus at the first station and begin the sweep.' },
    },
    links: { indicator: liveLink(), readout: exampleLink() },
    live: {
      indicator: exampleReading(0.00214),
      readout: null,
      ageMs: 4,
      // As long as a test looks at it: no service sends another.
      staleAfterMs: 60_000,
      xMm: 31.75,
    },
    setup: { ...state.setup, entry: 'device', rises: 'toward' },
    nudges: {
      ...state.nudges,
      y: {
        state: 'done',
        beforeMm: 0.0546,
        afterMm: -0.0724,
        movedMm: 0.127,
        factor: 1.002,
        finding: 'The reading falls as the bar goes away; the scale is right within 0.2 %.',
        remembered: false,
      },
    },
    demo: {
      tableMm: 31.75,
      leftMm: 0,
      rightMm: 127,
      traversing: false,
      stylusTouches: true,
      clamped: 'nipped',
      lastEvent: 'The table stands at station 2.',
    },
  };
}

/** Demo, two of five stations taken. */
export function stationsMidSweep(): BenchState {
  const state = demoReady();
  return {
    ...state,
    bench: {
      ...state.bench,
      job: { ...state.bench.job, next: 'Take the reading at station 3, 2.500 in.' },
    },
    sweep: exampleSweep({
      state: 'being taken',
      points: exampleSweep().points.slice(0, 2),
      samples: 2,
      nextStation: { index: 2, xMm: 63.5, pass: 'out' },
      result: null,
      noResultYet: 'A line needs three stations to be judged; two are taken.',
    }),
  };
}

/** The same sweep keyed in by hand beside a real vise. */
export function keyedMidSweep(): BenchState {
  const state = stationsMidSweep();
  const plain = nothingSet();
  return {
    ...state,
    bench: { ...state.bench, simulated: false },
    links: plain.links,
    live: plain.live,
    setup: { ...state.setup, entry: 'keyed' },
    sweep: state.sweep === null ? null : { ...state.sweep, simulated: false },
    demo: null,
  };
}

/** Swept, not true, advice given. */
export function resultNotTrue(): BenchState {
  const state = demoReady();
  return {
    ...state,
    bench: {
      ...state.bench,
      job: {
        number: 1,
        standing: 'loose',
        sentence: 'The vise is not tight: do not cut.',
        next: 'Park the stylus at the right end and tap until the needle rests in the notch.',
      },
      cautions: [
        {
          code: 'hands-clear' as const,
          text: 'Hands clear of jaw and mallet; soft-faced mallet only.',
        },
      ],
    },
    sweep: exampleSweep({
      nudgesSkipped: ['x'],
      result: exampleResult({
        cautions: [
          {
            code: 'lone-bump' as const,
            text: 'The point at 3.750 in stands off the line by 0.0002 in: usually a chip or a burr.',
          },
        ],
      }),
    }),
    history: { sweeps: [exampleSummary()] },
  };
}

/** Parked at the right end, the mallet working, three taps in. */
export function tapLive(): BenchState {
  const state = resultNotTrue();
  return {
    ...state,
    bench: {
      ...state.bench,
      job: { ...state.bench.job, next: 'Tap the right end toward you, lightly.' },
    },
    live: { ...state.live, indicator: exampleReading(-0.0004), xMm: 127 },
    tap: {
      sweepId: 1,
      parkedAtMm: 127,
      parkedReadingMm: -0.0711,
      tapToReadingMm: 0.0206,
      stopBandMm: { lowMm: 0.0006, highMm: 0.0406 },
      readingMm: -0.0102,
      remainingArcsec: -47.1,
      remainingAtMalletMm: -0.0354,
      standing: 'keep tapping',
      sentence: 'Keep tapping the right end toward you, 0.0014 in more; stop at +0.0008.',
      sweepAgain: '',
      steps: [
        {
          number: 1,
          beforeMm: -0.0711,
          afterMm: -0.0452,
          turnedArcsec: -39.6,
          atMalletMm: -0.0297,
          effect: 'closer',
        },
        {
          number: 2,
          beforeMm: -0.0452,
          afterMm: -0.0452,
          turnedArcsec: 0,
          atMalletMm: 0,
          effect: 'nothing moved',
        },
        {
          number: 3,
          beforeMm: -0.0452,
          afterMm: -0.0102,
          turnedArcsec: -53.5,
          atMalletMm: -0.0402,
          effect: 'closer',
        },
      ],
    },
  };
}

/** Fully clamped, swept both ways, true. */
export function trueAtTight(): BenchState {
  const state = resultNotTrue();
  const out = exampleResult().passes[0]!;
  const result = exampleResult({
    slope: 0.00002,
    outOfTrueRad: 0.00002,
    outOfTrueArcsec: 4.1,
    deviationArcsec: 4.1,
    endToEndMm: 0.00254,
    interceptMm: 0.0004,
    passes: [
      { ...out, slope: 0.000018 },
      { ...out, slope: 0.000022, pass: 'back' },
    ],
    gapMm: 0.0006,
    closureMm: -0.0003,
    tap: { end: 'right', direction: 'toward', amountMm: 0.0031, turn: 'clockwise' },
    tapToReadingMm: -0.0004,
    verdict: 'true',
    sentence: 'True: 0.0001 in over 5.00 in, within the limit of 0.0010 in.',
  });
  return {
    ...state,
    bench: {
      ...state.bench,
      stage: 'tight',
      job: {
        number: 1,
        standing: 'true',
        sentence: 'True at tight.',
        next: 'Indicator out, wrench off, clamps tight before any cut.',
      },
      cautions: [
        {
          code: 'indicator-out' as const,
          text: 'Indicator out, wrench off, clamps tight before any cut.',
        },
      ],
    },
    live: { ...state.live, indicator: exampleReading(-0.00002) },
    sweep: exampleSweep({
      id: 3,
      stage: 'tight',
      result,
      points: [
        ...[0, 1, 2, 3, 4].map((index) => ({
          xMm: index * 31.75,
          readingMm: -0.0004 - index * 0.0006 + (index % 2) * 0.0004,
          pass: 'out' as const,
          samples: 1,
        })),
        ...[4, 3, 2, 1, 0].map((index) => ({
          xMm: index * 31.75,
          readingMm: -0.001 - index * 0.0006,
          pass: 'back' as const,
          samples: 1,
        })),
      ],
    }),
    history: {
      sweeps: [
        exampleSummary(),
        exampleSummary({
          id: 2,
          stage: 'snug',
          result: { ...result, verdict: 'too close to call' },
        }),
        exampleSummary({ id: 3, stage: 'tight', result, shiftArcsec: -2.4 }),
      ],
    },
    pivot: {
      inUse: 'learned',
      xMm: -3.1,
      uncertaintyMm: 1.2,
      declaredMm: -8,
      malletMm: 147,
      question: null,
      sentence: 'The vise turns 0.12 in left of the bar, learned from sweeps 1 and 2.',
      evidence: [
        {
          beforeSweep: 1,
          afterSweep: 2,
          stage: 'nipped',
          end: 'right',
          xMm: -3.1,
          uncertaintyMm: 1.2,
          used: true,
          why: 'The lines cross 0.12 in left of the bar.',
        },
      ],
    },
  };
}

/** A readout gone, garbage on the indicator: real devices in trouble. */
export function faultsStanding(): BenchState {
  const state = nothingSet();
  const garbage = {
    code: 'not-understood' as const,
    what: 'Bytes arrive, but no line of them is a reading.',
    got: '\\xfe\\x80\\xe6f~\\x98',
    remedy: 'Check the baud rate of the device: this line shape opens the port at 9600.',
  };
  const gone = {
    code: 'port-gone' as const,
    what: 'The port was unplugged.',
    got: '/dev/ttyUSB1',
    remedy: 'Plug it in again; it is connected again by itself.',
  };
  return {
    ...state,
    bench: { ...state.bench, recordFile: null },
    setup: { ...state.setup, way: 'readout', entry: 'device' },
    links: {
      indicator: exampleLink({
        ...liveLink(false),
        state: 'not understood',
        readingsPerSecond: 0,
        lastText: garbage.got,
        fault: garbage,
      }),
      readout: exampleLink({ ...liveLink(false), state: 'lost', fault: gone }),
    },
    faults: {
      standing: [
        { ...garbage, from: 'indicator', times: 212 },
        { ...gone, from: 'readout', times: 1 },
        {
          code: 'record-not-kept' as const,
          what: 'The record cannot be written.',
          got: 'ENOSPC',
          remedy: 'Free space on the disk; measuring goes on, but nothing is kept until then.',
          from: 'record',
          times: 1,
        },
      ],
    },
  };
}

export const EXAMPLE_STATES: Readonly<Record<string, () => BenchState>> = {
  'nothing set': nothingSet,
  'demo ready': demoReady,
  'stations mid sweep': stationsMidSweep,
  'keyed mid sweep': keyedMidSweep,
  'result not true': resultNotTrue,
  'tap live': tapLive,
  'true at tight': trueAtTight,
  'faults standing': faultsStanding,
};
