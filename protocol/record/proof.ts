import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { Stage } from '../measuring/measuring-settings.ts';
import { PassName, SweepResult, Verdict } from '../measuring/sweep-result.ts';
import { DrawnPoint, TapStep } from '../messages/bench-state.ts';
import { JobCard } from './job-card.ts';
import { TagText } from './proof-words.ts';

/** Names a job everywhere. */
export const JobKey = Type.String({ pattern: '^[A-Za-z0-9-]{1,80}$' });

const Asked = Type.Optional(Type.String({ maxLength: 120 }));
const AskedTime = Type.Optional(
  Type.String({
    pattern: '^\\d{4}-\\d\\d-\\d\\dT[0-9:.]{5,12}Z$',
    description: 'ISO 8601 in UTC',
  }),
);

/** What is looked for in the kept jobs; what is left out is not asked. All of it must hold. */
export const ProofQuery = Type.Object(
  {
    text: Type.Optional(
      Type.String({
        maxLength: 120,
        description:
          'Words of card, notes, tags and sentences; each by its beginning, small or large letters',
      }),
    ),
    from: AskedTime,
    to: AskedTime,
    number: Type.Optional(
      Type.String({
        maxLength: 120,
        description: 'The bench’s own number, or how the shop’s begins',
      }),
    ),
    machine: Asked,
    operator: Asked,
    verdict: Type.Optional(
      Type.Union([...Verdict.anyOf, Type.Literal('none')], {
        description: 'Of the job’s last sweep with a line; none: it has none',
      }),
    ),
    bin: Type.Optional(Type.Literal('yes', { description: 'What lies in the bin, not the rest' })),
    after: Type.Optional(
      Type.String({
        pattern: '^[0-9TZ:.-]{1,40}~\\d{1,15}$',
        description: '`next` of a page before',
      }),
    ),
  },
  closed,
);
export type ProofQuery = Type.Static<typeof ProofQuery>;

/** One ended sweep as a line of the list. */
export const SweepRow = Type.Object(
  {
    number: Type.Integer({ minimum: 1 }),
    endedAt: Type.String(),
    stage: Stage,
    simulated: Type.Boolean(),
    verdict: Nullable(Verdict),
    outOfTrueArcsec: Nullable(Type.Number({ description: 'null: it gave no line' })),
    standardUncertaintyArcsec: Nullable(Type.Number()),
    expandedArcsec: Nullable(Type.Number()),
    endToEndMm: Nullable(Type.Number()),
    sentence: Type.String(),
    picture: Type.Array(Type.Tuple([Type.Number(), Type.Number()]), {
      maxItems: 24,
      description: 'A few points for a small picture: x and height of the surface, both in mm',
    }),
    samples: Type.Integer({ minimum: 0 }),
  },
  closed,
);
export type SweepRow = Type.Static<typeof SweepRow>;

/** One kept job as a line of the list, with its last sweeps. */
export const JobRow = Type.Object(
  {
    key: JobKey,
    number: Type.Integer({ minimum: 1, description: 'The bench’s own number' }),
    bench: Type.String(),
    startedAt: Type.String(),
    lastAt: Type.String(),
    running: Type.Boolean({ description: 'It is the one going on at this bench now' }),
    simulated: Type.Boolean(),
    origin: Type.String({ description: '`measured here`, or where it came from' }),
    card: JobCard,
    sweeps: Type.Integer({ minimum: 0 }),
    last: Type.Array(SweepRow, { maxItems: 6, description: 'The last sweeps, newest first' }),
    verdict: Nullable(Verdict),
    notes: Type.Integer({ minimum: 0 }),
    tags: Type.Array(TagText),
    signatures: Type.Integer({ minimum: 0 }),
    binnedAt: Nullable(Type.String()),
  },
  closed,
);
export type JobRow = Type.Static<typeof JobRow>;

export const ProofPage = Type.Object(
  {
    jobs: Type.Array(JobRow, { maxItems: 30 }),
    next: Nullable(Type.String({ description: 'Ask with this as `after`; null: that was all' })),
    inBin: Type.Integer({ minimum: 0 }),
    emptied: Type.Integer({ minimum: 0, description: 'Jobs of which only a tombstone is left' }),
  },
  closed,
);
export type ProofPage = Type.Static<typeof ProofPage>;

export const NoteRow = Type.Object(
  {
    number: Type.Integer({ minimum: 1 }),
    sweep: Nullable(Type.Integer({ minimum: 1 })),
    writtenAt: Type.String(),
    by: Type.String(),
    text: Type.String(),
    struck: Nullable(
      Type.Object({ at: Type.String(), by: Type.String(), why: Type.String() }, closed),
    ),
  },
  closed,
);
export type NoteRow = Type.Static<typeof NoteRow>;

/** What two sweeps, one after the other, said of the vise. */
export const TurnRow = Type.Object(
  {
    before: Type.Integer({ minimum: 1 }),
    after: Type.Integer({ minimum: 1 }),
    stageBefore: Stage,
    stageAfter: Stage,
    turnedArcsec: Type.Number({ description: 'Signed, positive counter-clockwise' }),
    tapped: Nullable(Type.Union([Type.Literal('left'), Type.Literal('right')])),
    clampChanges: Type.Integer({ minimum: 0 }),
    zeroMoved: Nullable(Type.String()),
    pivotFromLeftClampMm: Nullable(Type.Number()),
    pivotUncertaintyMm: Nullable(Type.Number()),
  },
  closed,
);
export type TurnRow = Type.Static<typeof TurnRow>;

/** How well the slope repeats over sweeps between which nothing was touched. */
export const Repeats = Type.Object(
  {
    job: JobKey,
    stage: Stage,
    sweeps: Type.Array(Type.Integer({ minimum: 1 })),
    lengthMm: Type.Number(),
    meanArcsec: Type.Number(),
    spreadArcsec: Type.Number({ minimum: 0, description: 'Standard deviation, n - 1' }),
    knownWithinShare: Type.Number({
      description: 'Relative standard uncertainty of that standard deviation',
    }),
    readingMm: Type.Number({
      minimum: 0,
      description: 'The same as the repeatability of one reading of the dial, mm',
    }),
    enough: Type.Boolean({ description: 'Enough sweeps to reckon with it' }),
    words: Type.String(),
  },
  closed,
);
export type Repeats = Type.Static<typeof Repeats>;

/** A sweep with all that was kept of it but its single readings. */
export const SweepDetail = Type.Object(
  {
    ...SweepRow.properties,
    points: Type.Array(DrawnPoint, { maxItems: 256 }),
    surfacePerReading: Type.Number(),
    result: Nullable(SweepResult),
    taps: Type.Array(TapStep),
    turn: Nullable(TurnRow),
  },
  closed,
);
export type SweepDetail = Type.Static<typeof SweepDetail>;

export const JobDetail = Type.Object(
  {
    ...JobRow.properties,
    all: Type.Array(SweepDetail, { maxItems: 60, description: 'Newest first' }),
    leftOut: Type.Integer({ minimum: 0, description: 'Older sweeps that are not listed' }),
    notesOf: Type.Array(NoteRow),
    repeats: Type.Array(Repeats),
  },
  closed,
);
export type JobDetail = Type.Static<typeof JobDetail>;

/** A sweep laid over others. Heights are of the surface, mm, positive away. */
export const ComparedSweep = Type.Object(
  {
    job: JobKey,
    jobNumber: Type.Integer(),
    title: Type.String({ description: 'What tells it from the others' }),
    number: Type.Integer(),
    stage: Stage,
    endedAt: Type.String(),
    simulated: Type.Boolean(),
    verdict: Nullable(Verdict),
    outOfTrueArcsec: Type.Number(),
    expandedArcsec: Nullable(Type.Number()),
    midHeightMm: Type.Number({ description: 'Height of its line at mid length' }),
    fromMm: Type.Number(),
    toMm: Type.Number(),
    slope: Type.Number(),
    interceptMm: Type.Number(),
    points: Type.Array(
      Type.Object(
        {
          xMm: Type.Number(),
          pass: PassName,
          heightMm: Type.Number(),
          offMm: Type.Number({ description: 'Off its own line' }),
        },
        closed,
      ),
    ),
  },
  closed,
);
export type ComparedSweep = Type.Static<typeof ComparedSweep>;

export const Comparison = Type.Object(
  {
    sweeps: Type.Array(ComparedSweep, { minItems: 2, maxItems: 20, description: 'Oldest first' }),
    differences: Type.Array(
      Type.Object(
        {
          turnedArcsec: Type.Number({ description: 'From the one before, counter-clockwise' }),
          uncertaintyArcsec: Nullable(Type.Number({ description: 'Expanded, both sweeps' })),
          words: Type.String(),
        },
        closed,
      ),
      { description: 'From each to the next' },
    ),
    repeats: Nullable(Repeats),
    whyNoRepeats: Type.String(),
  },
  closed,
);
export type Comparison = Type.Static<typeof Comparison>;

/** How the final sweeps of one vise lay over the months. */
export const Drift = Type.Object(
  {
    machine: Type.String(),
    points: Type.Array(
      Type.Object(
        {
          job: JobKey,
          jobNumber: Type.Integer(),
          endedAt: Type.String(),
          arcsec: Type.Number(),
          expandedArcsec: Nullable(Type.Number()),
        },
        closed,
      ),
      { maxItems: 500 },
    ),
    trend: Nullable(
      Type.Object(
        {
          arcsecPerMonth: Type.Number({ description: 'A month is 30 days' }),
          expandedArcsecPerMonth: Type.Number({ description: '95 %, two-sided' }),
          meanArcsec: Type.Number(),
          spreadArcsec: Type.Number(),
        },
        closed,
      ),
    ),
    words: Type.String(),
  },
  closed,
);
export type Drift = Type.Static<typeof Drift>;

const Usual = {
  mean: Type.Number(),
  spread: Nullable(Type.Number({ description: 'Standard deviation from job to job; null: one' })),
  jobs: Type.Integer({ minimum: 1 }),
};

/** What the jobs of one vise taught: where it turns, and how tightening turns it. */
export const Learned = Type.Object(
  {
    machine: Type.String(),
    pivots: Type.Array(
      Type.Object(
        {
          stage: Stage,
          end: Type.Union([Type.Literal('left'), Type.Literal('right')]),
          ...Usual,
          words: Type.String(),
        },
        {
          ...closed,
          description: 'mean and spread in mm from the left clamp, to the right positive',
        },
      ),
    ),
    shifts: Type.Array(
      Type.Object(
        { from: Stage, to: Stage, ...Usual, words: Type.String() },
        { ...closed, description: 'mean and spread in seconds of arc, counter-clockwise positive' },
      ),
    ),
    fairNumber: Type.Integer({ description: 'Jobs from which on aiming off is offered' }),
    aim: Nullable(
      Type.Object(
        {
          stage: Stage,
          arcsec: Type.Number(),
          spreadArcsec: Type.Number({ minimum: 0 }),
          jobs: Type.Integer(),
          words: Type.String(),
        },
        { ...closed, description: 'What may be aimed off at the stage of now' },
      ),
    ),
    whyNoAim: Type.String(),
  },
  closed,
);
export type Learned = Type.Static<typeof Learned>;

export const ProofNames = Type.Object(
  { machines: Type.Array(Type.String()), operators: Type.Array(Type.String()) },
  { ...closed, description: 'Names on the cards, each once' },
);
export type ProofNames = Type.Static<typeof ProofNames>;
