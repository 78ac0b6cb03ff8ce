import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { LengthUnit } from '../quantity/units.ts';
import { BlockGrade, BlockSet } from './block-set.ts';

/** What was typed, with its unit, as it was typed: `5in`, `0.0002in`, `100mm`. */
const LengthText = Type.String({ maxLength: 40 });

export const AngleKind = Type.Union(
  [
    Type.Literal('angle'),
    Type.Literal('included angle'),
    Type.Literal('taper included'),
    Type.Literal('taper half'),
    Type.Literal('rise over run'),
  ],
  {
    description:
      'angle: set as written (12deg30min). included angle: half of it is set. taper included and ' +
      'taper half (6.125in/ft, 50mm/m, 1:20): the included angle, or half of it, is set. ' +
      'rise over run: 1in/12in',
  },
);
export type AngleKind = Type.Static<typeof AngleKind>;

export const MeasuredFrom = Type.Union(
  [
    Type.Object({ line: Type.Literal('along the jaw') }, closed),
    Type.Object({ line: Type.Literal('square to the jaw') }, closed),
    Type.Object({ line: Type.Literal('centreline along the jaw') }, closed),
    Type.Object({ line: Type.Literal('centreline square to the jaw') }, closed),
    Type.Object(
      {
        line: Type.Literal('another edge'),
        edgeAngle: Type.String({ maxLength: 40, description: 'Of that edge from the jaw' }),
        cut: Type.Union([
          Type.Literal('beyond the edge'),
          Type.Literal('short of the edge'),
          Type.Literal('across the jaw line'),
        ]),
      },
      closed,
    ),
  ],
  {
    description:
      'The line of the print the angle is measured from, as the work lies in the vise. along the jaw: ' +
      'set as written. square to the jaw: 90 degrees less it. A centreline: the angle is the whole one ' +
      'across it, and half is set, or 90 degrees less half. another edge: its own angle from the jaw ' +
      'and the angle written are added (beyond), or one taken from the other (short of it: edge less ' +
      'written; across: written less edge)',
  },
);
export type MeasuredFrom = Type.Static<typeof MeasuredFrom>;

/** What is meant where nothing was said, as in jobs kept before the line could be chosen. */
export const ALONG_THE_JAW: MeasuredFrom = { line: 'along the jaw' };

export const Hand = Type.Union([Type.Literal('right-away'), Type.Literal('left-away')], {
  description: 'Which end of the jaw lies farther from the operator when the vise is set',
});
export type Hand = Type.Static<typeof Hand>;

export const Tolerance = Type.Union([
  Type.Object({ kind: Type.Literal('angle'), text: Type.String({ maxLength: 40 }) }, closed),
  Type.Object(
    {
      kind: Type.Literal('iso 2768-1'),
      class: Type.Union([
        Type.Literal('f'),
        Type.Literal('m'),
        Type.Literal('c'),
        Type.Literal('v'),
      ]),
      shorterLeg: LengthText,
    },
    closed,
  ),
  Type.Object({ kind: Type.Literal('rise'), rise: LengthText, over: LengthText }, closed),
]);
export type Tolerance = Type.Static<typeof Tolerance>;

/** What the budget is told; null: the usual value is assumed, and the line says so. */
export const BudgetAssumptions = Type.Object(
  {
    grade: Nullable(BlockGrade),
    centreDistanceErrorUm: Nullable(Type.Number({ minimum: 0, maximum: 1000 })),
    rollDifferenceUm: Nullable(Type.Number({ minimum: 0, maximum: 1000 })),
    faceParallelUm: Nullable(Type.Number({ minimum: 0, maximum: 1000 })),
    seatUm: Nullable(Type.Number({ minimum: 0, maximum: 1000 })),
    temperatureDifferenceK: Nullable(Type.Number({ minimum: 0, maximum: 50 })),
    indicatorErrorUm: Nullable(Type.Number({ minimum: 0, maximum: 1000 })),
    scatterUm: Nullable(Type.Number({ minimum: 0, maximum: 1000 })),
    stations: Nullable(Type.Integer({ minimum: 2, maximum: 1000 })),
    clampingUm: Nullable(
      Type.Number({ minimum: 0, maximum: 1000, description: 'One jaw end against the other' }),
    ),
    squarenessUmPerM: Nullable(Type.Number({ minimum: 0, maximum: 10_000 })),
    measuredSweep: Nullable(
      Type.Object(
        {
          standardUncertaintyArcsec: Type.Number({ minimum: 0, maximum: 324_000 }),
          degreesOfFreedom: Nullable(Type.Number({ minimum: 0.1, maximum: 1e9 })),
        },
        {
          ...closed,
          description: 'Takes the place of the planned sweep and of the indicator, once swept',
        },
      ),
    ),
  },
  closed,
);
export type BudgetAssumptions = Type.Static<typeof BudgetAssumptions>;

/** Everything the Plan place, or a job file, holds of one job. */
export const PlanQuestion = Type.Object(
  {
    job: Type.String({ maxLength: 120 }),
    angle: Type.Object({ text: Type.String({ maxLength: 40 }), kind: AngleKind }, closed),
    measuredFrom: Type.Optional(MeasuredFrom),
    referenceLine: Type.String({
      maxLength: 120,
      description: 'Which edge of the print that line is, in words',
    }),
    hand: Hand,
    tolerance: Nullable(Tolerance),
    setUpShare: Type.Number({
      minimum: 0.001,
      maximum: 1,
      description: 'Share of the tolerance the set-up may take; a quarter to a tenth is usual',
    }),
    bar: Nullable(
      Type.Object(
        {
          length: LengthText,
          lengthIs: Type.Union([Type.Literal('nominal'), Type.Literal('certified')]),
          lengthUncertainty: Nullable(LengthText),
          rollDiameter: Nullable(LengthText),
        },
        { ...closed, description: 'lengthUncertainty: expanded (k = 2), from its certificate' },
      ),
    ),
    jaw: Type.Object(
      {
        solid: Type.Union([Type.Literal('rear'), Type.Literal('front')]),
        width: Nullable(LengthText),
      },
      closed,
    ),
    setId: Nullable(Type.String({ maxLength: 40 })),
    without: Type.Array(Type.String({ maxLength: 16 }), { maxItems: 250 }),
    lowStack: Type.Optional(
      Nullable(
        Type.String({
          maxLength: 40,
          description: 'Blocks under both rolls: height under the other roll; null: fewest blocks',
        }),
      ),
    ),
    wear: Nullable(Type.String({ maxLength: 12, description: 'Size of one of the wear pair' })),
    sweptLength: Nullable(LengthText),
    displayUnit: LengthUnit,
    decisions: Type.Object(
      {
        steep: Nullable(
          Type.Union([Type.Literal('as written'), Type.Literal('complement')], {
            description: 'Above 45 degrees; null: not decided',
          }),
        ),
        shallow: Nullable(
          Type.Union([
            Type.Literal('one stack'),
            Type.Literal('both rolls'),
            Type.Literal('sweep the jaw'),
          ]),
        ),
        nearest: Nullable(
          Type.Union([Type.Literal('below'), Type.Literal('above')], {
            description: 'Which to take where the height cannot be built',
          }),
        ),
      },
      closed,
    ),
    budget: BudgetAssumptions,
  },
  closed,
);
export type PlanQuestion = Type.Static<typeof PlanQuestion>;

export const JOB_FILE_VERSION = 1;

/**
 * A job as exported: everything needed to make the same plan elsewhere. `set` is there where the blocks
 * are a set of the shop's own.
 */
export const JobFile = Type.Object(
  {
    taptrueJob: Type.Literal(JOB_FILE_VERSION),
    question: PlanQuestion,
    set: Type.Optional(BlockSet),
    taken: Type.Array(Type.String({ maxLength: 16 }), {
      maxItems: 40,
      description: 'Blocks keyed in the re-add; empty: not done',
    }),
    takenLow: Type.Optional(
      Type.Array(Type.String({ maxLength: 16 }), {
        maxItems: 40,
        description: 'The same under the other roll, where blocks stand under both',
      }),
    ),
  },
  closed,
);
export type JobFile = Type.Static<typeof JobFile>;

/** The budget told nothing: every line shows its usual value. */
export function nothingKnown(): BudgetAssumptions {
  return {
    grade: null,
    centreDistanceErrorUm: null,
    rollDifferenceUm: null,
    faceParallelUm: null,
    seatUm: null,
    temperatureDifferenceK: null,
    indicatorErrorUm: null,
    scatterUm: null,
    stations: null,
    clampingUm: null,
    squarenessUmPerM: null,
    measuredSweep: null,
  };
}

/** A 5 in bar in a 6 in vise, solid jaw at the back: the Plan place before anyone has said anything. */
export function firstQuestion(): PlanQuestion {
  return {
    job: '',
    angle: { text: '', kind: 'angle' },
    measuredFrom: ALONG_THE_JAW,
    referenceLine: '',
    hand: 'right-away',
    tolerance: null,
    setUpShare: 0.25,
    bar: { length: '5in', lengthIs: 'nominal', lengthUncertainty: null, rollDiameter: null },
    jaw: { solid: 'rear', width: '6in' },
    setId: 'inch-81',
    without: [],
    lowStack: null,
    wear: null,
    sweptLength: null,
    displayUnit: 'in',
    decisions: { steep: null, shallow: null, nearest: null },
    budget: nothingKnown(),
  };
}
