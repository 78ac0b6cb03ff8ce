import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { FindSection } from '../device/find.ts';
import { LinkReport, PortsSection } from '../device/link.ts';
import { Reading } from '../device/reading.ts';
import { Fault } from '../faults/fault.ts';
import { MeasuredUnder, Setup, Stage } from '../measuring/measuring-settings.ts';
import { SetUpsSection } from '../measuring/set-ups.ts';
import { Caution, PassName, SweepResult } from '../measuring/sweep-result.ts';
import { JobsSection, PlanSection, SetsSection } from '../plan/plan-sections.ts';
import { JobCard } from '../record/job-card.ts';
import { ReplaySection } from './replay.ts';
import { SettingsSection } from './settings.ts';

/** Who and what this bench is. Changes rarely. */
export const BenchSection = Type.Object(
  {
    name: Type.String(),
    simulated: Type.Boolean({
      description: 'Any part of what is measured comes from the simulated bench',
    }),
    recordFile: Nullable(
      Type.String({
        description: 'The file all records of this bench are kept in; null: nowhere, see faults',
      }),
    ),
    serviceVersion: Type.String(),
    stage: Stage,
    job: Type.Object(
      {
        number: Type.Integer({
          minimum: 1,
          description: 'Counts the jobs of this bench',
        }),
        standing: Type.Union(
          [
            Type.Literal('not measured'),
            Type.Literal('loose'),
            Type.Literal('not true'),
            Type.Literal('too close to call'),
            Type.Literal('true'),
          ],
          { description: 'loose: whatever the sweep said, the vise is not tight yet' },
        ),
        sentence: Type.String(),
        next: Type.String({ description: 'What to do now, one sentence' }),
      },
      closed,
    ),
    cautions: Type.Array(Caution, { description: 'Safety cautions that apply now' }),
  },
  closed,
);
export type BenchSection = Type.Static<typeof BenchSection>;

export const LinksSection = Type.Object({ indicator: LinkReport, readout: LinkReport }, closed);
export type LinksSection = Type.Static<typeof LinksSection>;

/** The needle. Up to 60 a second; only the latest is ever sent. */
export const LiveSection = Type.Object(
  {
    indicator: Nullable(Reading),
    readout: Nullable(Reading),
    second: Type.Optional(Nullable(Reading)),
    ageMs: Nullable(
      Type.Number({ description: 'Age of the indicator reading when this was sent' }),
    ),
    staleAfterMs: Type.Number({ description: 'Older than this, a streamed reading is not live' }),
    xMm: Nullable(
      Type.Number({ description: 'Where on the work the stylus stands, where that is known' }),
    ),
  },
  closed,
);
export type LiveSection = Type.Static<typeof LiveSection>;

const NudgeState = Type.Union([
  Type.Literal('not done'),
  Type.Literal('waiting for the move'),
  Type.Literal('done'),
  Type.Literal('skipped'),
]);

export const NudgesSection = Type.Object(
  {
    y: Type.Object(
      {
        state: NudgeState,
        beforeMm: Nullable(Type.Number()),
        afterMm: Nullable(Type.Number()),
        movedMm: Nullable(
          Type.Number({ description: 'The surface moved toward the column by this much' }),
        ),
        factor: Nullable(Type.Number({ description: 'True travel per shown travel' })),
        finding: Type.String({ description: 'What the nudge showed, in words; empty before it' }),
        remembered: Type.Boolean({ description: 'From an earlier job of this bench' }),
      },
      closed,
    ),
    x: Type.Object(
      {
        state: NudgeState,
        beforeMm: Nullable(Type.Number()),
        afterMm: Nullable(Type.Number()),
        finding: Type.String(),
        remembered: Type.Boolean(),
      },
      closed,
    ),
  },
  closed,
);
export type NudgesSection = Type.Static<typeof NudgesSection>;

/** One dot of the drawing: a station, or one bin of a streamed sweep. */
export const DrawnPoint = Type.Object(
  {
    xMm: Type.Number(),
    readingMm: Type.Number(),
    pass: PassName,
    samples: Type.Integer({ minimum: 1 }),
  },
  closed,
);
export type DrawnPoint = Type.Static<typeof DrawnPoint>;

/** The sweep being taken, or the last one taken. */
export const SweepSection = Type.Object(
  {
    id: Type.Integer({ minimum: 1 }),
    state: Type.Union([Type.Literal('being taken'), Type.Literal('ended')]),
    stage: Stage,
    simulated: Type.Boolean(),
    pass: PassName,
    points: Type.Array(DrawnPoint, { maxItems: 256 }),
    samples: Type.Integer({ minimum: 0 }),
    pairsRefused: Type.Integer({
      minimum: 0,
      description: 'Indicator and readout too far apart in time',
    }),
    nextStation: Nullable(
      Type.Object(
        { index: Type.Integer({ minimum: 0 }), xMm: Type.Number(), pass: PassName },
        closed,
      ),
    ),
    feedRunning: Type.Boolean(),
    nudgesSkipped: Type.Array(Type.Union([Type.Literal('y'), Type.Literal('x')])),
    result: Nullable(SweepResult),
    noResultYet: Type.String({
      description: 'Why there is no result, in words; empty when there is one',
    }),
    outdated: Type.String({
      description: 'What happened since, so that the vise may lie otherwise now; empty: nothing',
    }),
    zeroMoved: Type.String({
      description:
        'Why the dial no longer reads as in this sweep, so that its stop reading does not hold; empty: it does',
    }),
  },
  closed,
);
export type SweepSection = Type.Static<typeof SweepSection>;

/** One line of the job's list: an ended sweep. */
export const SweepSummary = Type.Object(
  {
    id: Type.Integer({ minimum: 1 }),
    stage: Stage,
    result: SweepResult,
    simulated: Type.Boolean(),
    shiftArcsec: Nullable(
      Type.Number({
        description:
          'What tightening since the sweep before turned, where nothing was tapped between',
      }),
    ),
    zeroMoved: Nullable(
      Type.String({
        description: 'Why this sweep does not share a zero with the one before; null: it does',
      }),
    ),
    under: Type.Optional(MeasuredUnder),
  },
  closed,
);
export type SweepSummary = Type.Static<typeof SweepSummary>;

/** What sweeps out and back at two speeds told of how late the indicator is heard. */
export const TimingSection = Type.Object(
  {
    measured: Nullable(
      Type.Object(
        {
          lagMs: Type.Number({ description: 'Of the indicator behind the readout' }),
          uncertaintyMs: Type.Number({ minimum: 0, description: 'Expanded, 95 %' }),
          playMm: Type.Number({
            description: 'What remains of the loop however slow, as the dial shows it',
          }),
          playUncertaintyMm: Type.Number({ minimum: 0 }),
          slowestMmPerS: Type.Number(),
          fastestMmPerS: Type.Number(),
        },
        closed,
      ),
    ),
    whyNot: Type.String({ description: 'Why the last sweeps told nothing; empty: they did' }),
  },
  closed,
);
export type TimingSection = Type.Static<typeof TimingSection>;

export const HistorySection = Type.Object(
  { sweeps: Type.Array(SweepSummary, { maxItems: 50 }) },
  closed,
);
export type HistorySection = Type.Static<typeof HistorySection>;

export const TapStep = Type.Object(
  {
    number: Type.Integer({ minimum: 1 }),
    beforeMm: Type.Number(),
    afterMm: Type.Number(),
    turnedArcsec: Type.Number({ description: 'Signed, positive counter-clockwise' }),
    atMalletMm: Type.Number({ description: 'Signed, positive away' }),
    effect: Type.Union([
      Type.Literal('closer'),
      Type.Literal('farther'),
      Type.Literal('past'),
      Type.Literal('nothing moved'),
    ]),
  },
  closed,
);
export type TapStep = Type.Static<typeof TapStep>;

/** The mallet's moment: stylus parked, needle watched. */
export const TapSection = Type.Object(
  {
    sweepId: Type.Integer({ minimum: 1 }),
    parkedAtMm: Type.Number(),
    parkedReadingMm: Type.Number(),
    tapToReadingMm: Type.Number({ description: 'The reading at which to stop' }),
    stopBandMm: Nullable(
      Type.Object(
        { lowMm: Type.Number(), highMm: Type.Number() },
        { ...closed, description: 'Readings inside the limit' },
      ),
    ),
    readingMm: Nullable(Type.Number()),
    remainingArcsec: Nullable(
      Type.Number({ description: 'Signed turn still wanted, positive counter-clockwise' }),
    ),
    remainingAtMalletMm: Nullable(Type.Number({ description: 'Signed, positive away' })),
    standing: Type.Union([
      Type.Literal('no reading'),
      Type.Literal('keep tapping'),
      Type.Literal('stop'),
      Type.Literal('past'),
    ]),
    sentence: Type.String(),
    sweepAgain: Type.String({
      description: 'Why this tap is coarse and wants a new sweep; empty if it does not',
    }),
    steps: Type.Array(TapStep, { maxItems: 40 }),
  },
  closed,
);
export type TapSection = Type.Static<typeof TapSection>;

export const PivotSection = Type.Object(
  {
    inUse: Type.Union([Type.Literal('declared'), Type.Literal('learned')]),
    xMm: Type.Number(),
    uncertaintyMm: Type.Number({ minimum: 0 }),
    declaredMm: Type.Number(),
    malletMm: Type.Number({
      description:
        'Where the mallet strikes: as set, or at the other end where the pivot lies at that one',
    }),
    sentence: Type.String(),
    question: Nullable(
      Type.Object(
        {
          asks: Type.Union([Type.Literal('untapped'), Type.Literal('elsewhere')]),
          text: Type.String(),
          yes: Type.String(),
          no: Type.String({ description: 'The safe answer: nothing is learned from that turn' }),
        },
        closed,
      ),
    ),
    evidence: Type.Array(
      Type.Object(
        {
          beforeSweep: Type.Integer(),
          afterSweep: Type.Integer(),
          stage: Stage,
          end: Type.String(),
          xMm: Nullable(Type.Number()),
          uncertaintyMm: Nullable(Type.Number()),
          used: Type.Boolean(),
          why: Type.String(),
        },
        closed,
      ),
      { maxItems: 20 },
    ),
  },
  closed,
);
export type PivotSection = Type.Static<typeof PivotSection>;

export const StandingFault = Type.Object(
  {
    ...Fault.properties,
    from: Type.String({ description: 'Part of the bench it concerns' }),
    times: Type.Integer({ minimum: 1 }),
  },
  closed,
);
export type StandingFault = Type.Static<typeof StandingFault>;

export const FaultsSection = Type.Object(
  { standing: Type.Array(StandingFault, { maxItems: 20 }) },
  closed,
);
export type FaultsSection = Type.Static<typeof FaultsSection>;

/** The simulated bench's own handles; null with real devices. */
export const DemoSection = Type.Object(
  {
    tableMm: Type.Number({ description: 'Where on the work the simulated stylus stands' }),
    leftMm: Type.Number(),
    rightMm: Type.Number(),
    traversing: Type.Boolean(),
    stylusTouches: Type.Boolean(),
    clamped: Stage,
    lastEvent: Type.String(),
  },
  closed,
);
export type DemoSection = Type.Static<typeof DemoSection>;

/** Sent to pages on the bench's own machine only. */
export const AccessSection = Type.Object(
  {
    pairingCode: Nullable(
      Type.String({
        description: 'Shown on the bench screen; null: the service is not reachable from elsewhere',
      }),
    ),
    addresses: Type.Array(Type.String()),
    tablets: Type.Array(Type.Object({ id: Type.String(), name: Type.String() }, closed), {
      maxItems: 16,
    }),
    triesLeft: Type.Integer({ minimum: 0 }),
  },
  closed,
);
export type AccessSection = Type.Static<typeof AccessSection>;

/**
 * The one state of a bench. Each section has a revision of its own; the stream sends those that a screen
 * has not seen yet, whole, latest only.
 */
export const BenchState = Type.Object(
  {
    bench: BenchSection,
    links: LinksSection,
    live: LiveSection,
    setup: Setup,
    nudges: NudgesSection,
    sweep: Nullable(SweepSection),
    history: HistorySection,
    tap: Nullable(TapSection),
    pivot: PivotSection,
    faults: FaultsSection,
    demo: Nullable(DemoSection),
    plan: PlanSection,
    sets: SetsSection,
    jobs: JobsSection,
    card: JobCard,
    ports: PortsSection,
    timing: TimingSection,
    setUps: SetUpsSection,
    settings: SettingsSection,
    find: Nullable(FindSection),
    replay: Nullable(ReplaySection),
  },
  closed,
);
export type BenchState = Type.Static<typeof BenchState>;

export type SectionName = keyof BenchState;
export const SECTION_NAMES = Object.keys(BenchState.properties) as readonly SectionName[];
