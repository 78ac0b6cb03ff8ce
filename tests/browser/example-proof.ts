import {
  type Comparison,
  type Drift,
  emptyCard,
  type JobDetail,
  type JobRow,
  type Learned,
  type ProofNames,
  type ProofPage,
  type SweepDetail,
  type SweepRow,
} from '@taptrue/protocol';
import { exampleResult } from './example-parts.ts';

/** The running job's key in these examples. */
export const EXAMPLE_JOB = 'job-12';

const POINTS_MM = [0.0152, -0.0074, -0.0275, -0.0503, -0.0711];
const picture = POINTS_MM.map((mm, index): [number, number] => [index * 31.75, -mm]);

function exampleRow(change: Partial<SweepRow> = {}): SweepRow {
  const { verdict, sentence, outOfTrueArcsec, outOfTrueArcsecExpanded, endToEndMm } =
    exampleResult();
  return {
    number: 1,
    endedAt: '2026-11-24T09:12:00.000Z',
    stage: 'nipped',
    simulated: false,
    verdict,
    outOfTrueArcsec,
    standardUncertaintyArcsec: 2.9,
    expandedArcsec: outOfTrueArcsecExpanded,
    endToEndMm,
    sentence,
    picture,
    samples: 5,
    ...change,
  };
}

function exampleJob(change: Partial<JobRow> = {}): JobRow {
  return {
    key: EXAMPLE_JOB,
    number: 12,
    bench: 'Mill 2',
    startedAt: '2026-11-24T09:00:00.000Z',
    lastAt: '2026-11-24T09:40:00.000Z',
    running: true,
    simulated: false,
    origin: 'measured here',
    card: { ...emptyCard(), jobNumber: 'W-2001', part: 'wedge plate', operator: 'Ann' },
    sweeps: 2,
    last: [exampleRow({ number: 2, verdict: null, outOfTrueArcsec: null }), exampleRow()],
    verdict: 'not true',
    notes: 1,
    tags: ['first piece'],
    signatures: 0,
    binnedAt: null,
    ...change,
  };
}

export function exampleProofPage(): ProofPage {
  return {
    jobs: [
      exampleJob(),
      exampleJob({
        key: 'job-11',
        number: 11,
        running: false,
        simulated: true,
        origin: 'a file of a very long name from another bench.taptrue-recording.jsonl',
        signatures: 1,
        verdict: 'true',
        card: emptyCard(),
      }),
      exampleJob({ key: 'job-10', number: 10, running: false, sweeps: 0, last: [], verdict: null }),
    ],
    next: '2026-11-20T09:00:00.000Z~10',
    inBin: 3,
    emptied: 1,
  };
}

export function exampleJobDetail(): JobDetail {
  const points = POINTS_MM.map((readingMm, index) => ({
    xMm: index * 31.75,
    readingMm,
    pass: 'out' as const,
    samples: 1,
  }));
  const detail: SweepDetail = {
    ...exampleRow(),
    points,
    surfacePerReading: -1,
    result: exampleResult(),
    taps: [
      {
        number: 1,
        beforeMm: -0.0711,
        afterMm: -0.0452,
        turnedArcsec: -39.6,
        atMalletMm: -0.0297,
        effect: 'closer',
      },
    ],
    turn: null,
  };
  return {
    ...exampleJob(),
    all: [
      {
        ...detail,
        ...exampleRow({ number: 2, verdict: null, outOfTrueArcsec: null, sentence: '' }),
        result: null,
        points: [],
        taps: [],
        turn: {
          before: 1,
          after: 2,
          stageBefore: 'nipped',
          stageAfter: 'snug',
          turnedArcsec: -12,
          tapped: 'right',
          clampChanges: 1,
          zeroMoved: null,
          pivotFromLeftClampMm: 3,
          pivotUncertaintyMm: 2,
        },
      },
      detail,
    ],
    leftOut: 3,
    notesOf: [
      {
        number: 1,
        sweep: 1,
        writtenAt: '2026-11-24T10:00:00.000Z',
        by: 'Ann',
        text: 'Burr stoned off the fixed jaw.',
        struck: null,
      },
      {
        number: 2,
        sweep: null,
        writtenAt: '2026-11-24T10:01:00.000Z',
        by: 'Ann',
        text: 'Wrong block.',
        struck: { at: '2026-11-24T10:02:00.000Z', by: 'B. C.', why: 'It was the right one.' },
      },
    ],
    repeats: [exampleRepeats()],
  };
}

function exampleRepeats(): JobDetail['repeats'][number] {
  return {
    job: EXAMPLE_JOB,
    stage: 'nipped',
    sweeps: [3, 4, 5, 6, 7],
    lengthMm: 127,
    meanArcsec: 4,
    spreadArcsec: 2.4,
    knownWithinShare: 0.36,
    readingMm: 0.00105,
    enough: true,
    words: '5 sweeps at nipped with nothing touched between repeat to 0° 0′ 2.4″.',
  };
}

export function exampleComparison(): Comparison {
  const sweep = (number: number, slope: number): Comparison['sweeps'][number] => ({
    job: EXAMPLE_JOB,
    jobNumber: 12,
    title: `job 12, sweep ${number}, nipped`,
    number,
    stage: 'nipped',
    endedAt: '2026-11-24T09:12:00.000Z',
    simulated: number === 1,
    verdict: number === 1 ? 'not true' : 'true',
    outOfTrueArcsec: slope * 206_265,
    expandedArcsec: 6,
    midHeightMm: 63.5 * slope,
    fromMm: 0,
    toMm: 127,
    slope,
    interceptMm: 0,
    points: [0, 31.75, 63.5, 95.25, 127].map((xMm, index) => ({
      xMm,
      pass: 'out',
      heightMm: slope * xMm + (index % 2) * 0.001,
      offMm: (index % 2) * 0.001,
    })),
  });
  return {
    sweeps: [sweep(1, 0.0007), sweep(2, 0.00002), sweep(3, 0.00001)],
    differences: [
      { turnedArcsec: -140, uncertaintyArcsec: 8, words: 'Turned 0° 2′ 20″ clockwise.' },
      { turnedArcsec: -2, uncertaintyArcsec: 8, words: 'Turned 0° 0′ 2.0″ clockwise.' },
    ],
    repeats: exampleRepeats(),
    whyNoRepeats: '',
  };
}

export const EXAMPLE_NAMES: ProofNames = { machines: ['Mill 2, old vise'], operators: ['Ann'] };

export function exampleDrift(): Drift {
  return {
    machine: 'Mill 2, old vise',
    points: [0, 1, 2, 3, 4, 5].map((index) => ({
      job: `job-${index}`,
      jobNumber: index + 1,
      endedAt: new Date(Date.UTC(2026, index, 3)).toISOString(),
      arcsec: 3 * index - 6,
      expandedArcsec: 3,
    })),
    trend: null,
    words:
      '6 final sweeps of Mill 2, old vise over 151 days turn 0° 0′ 3.0″ counter-clockwise a month, ± 0° 0′ 0.1″: look at what wears or works loose.',
  };
}

export function exampleLearned(): Learned {
  return {
    machine: 'Mill 2, old vise',
    pivots: [
      {
        stage: 'nipped',
        end: 'right',
        mean: 3,
        spread: 2,
        jobs: 9,
        words: 'At nipped it turns 3 mm to the right of the left clamp (9 jobs).',
      },
    ],
    shifts: [
      {
        from: 'nipped',
        to: 'tight',
        mean: 12,
        spread: 5,
        jobs: 9,
        words: 'From nipped to tight it turns 0° 0′ 12″ counter-clockwise ± 0° 0′ 5.0″ (9 jobs).',
      },
    ],
    fairNumber: 7,
    aim: {
      stage: 'nipped',
      arcsec: -12,
      spreadArcsec: 5,
      jobs: 9,
      words:
        'Tightening from nipped to tight usually turns it 0° 0′ 12″ counter-clockwise ± 0° 0′ 5.0″ (9 jobs). Aim off by 0° 0′ 12″ clockwise?',
    },
    whyNoAim: '',
  };
}

/** What the service answers at this address under /api/proof. */
export function exampleProofAnswer(path: string): unknown {
  if (path.startsWith('jobs/')) return exampleJobDetail();
  if (path.startsWith('jobs')) return exampleProofPage();
  if (path.startsWith('compare')) return exampleComparison();
  if (path.startsWith('drift')) return exampleDrift();
  return path.startsWith('names') ? EXAMPLE_NAMES : exampleLearned();
}
