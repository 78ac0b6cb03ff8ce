import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { End, Limit } from '../measuring/measuring-settings.ts';
import { Caution } from '../measuring/sweep-result.ts';
import { LengthUnit } from '../quantity/units.ts';
import { Hand } from './plan-question.ts';

const Turn = Type.Union([
  Type.Literal('clockwise'),
  Type.Literal('counter-clockwise'),
  Type.Literal('none'),
]);

/** One angle in every way it is written in a shop. */
export const AngleEcho = Type.Object(
  {
    arcsec: Type.Number(),
    deg: Type.Number(),
    rad: Type.Number(),
    dmsText: Type.String(),
    degText: Type.String(),
    taperInPerFt: Nullable(
      Type.Number({ description: 'With this as the included angle; null from 180 degrees' }),
    ),
    taperMmPerM: Nullable(Type.Number()),
    taperOneIn: Nullable(Type.Number({ description: '20 for 1:20' })),
    halfTaperInPerFt: Nullable(Type.Number({ description: 'With this as the half angle' })),
    riseOverRun: Nullable(Type.Number({ description: 'tan; null at 90 degrees' })),
    riseOverBarMm: Nullable(Type.Number({ description: 'Bar length times sine; null: no bar' })),
    riseOverBarIn: Nullable(Type.Number()),
    lines: Type.Array(Type.Object({ name: Type.String(), text: Type.String() }, closed)),
  },
  closed,
);
export type AngleEcho = Type.Static<typeof AngleEcho>;

/** The angle as the print writes it, and the line it is measured from; `angle` of the answer is what is set. */
export const WrittenAngle = Type.Object(
  {
    arcsec: Type.Number(),
    dmsText: Type.String(),
    from: Type.String({ description: 'The line, in words: "the line square to the jaw"' }),
    isWhole: Type.Boolean({ description: 'Written across a centreline: half of it is one side' }),
    isTurned: Type.Boolean({ description: 'What is set is not what is written' }),
    sentence: Type.String(),
  },
  closed,
);
export type WrittenAngle = Type.Static<typeof WrittenAngle>;

/** Blocks that add up to one height. */
export const BuiltStack = Type.Object(
  {
    blocks: Type.Array(Type.String(), { description: 'As engraved, from the last decimal up' }),
    wear: Type.Array(Type.String(), { description: 'The pair outside, or empty' }),
    unit: LengthUnit,
    sumText: Type.String(),
    sumMm: Type.Number({ description: 'Engraved sizes, wear pair included' }),
    sumIn: Type.Number(),
    trueSumMm: Type.Number({ description: 'With certified deviations' }),
    worked: Type.Array(
      Type.Object(
        { from: Type.String(), take: Type.String(), leaves: Type.String() },
        { ...closed, description: 'One step of the sum, from the last decimal up' },
      ),
    ),
    alternatives: Type.Array(Type.Array(Type.String()), {
      description: 'Other stacks of as few blocks, without the wear pair',
    }),
    alternativesCut: Type.Boolean({ description: 'There are more than are listed' }),
  },
  closed,
);
export type BuiltStack = Type.Static<typeof BuiltStack>;

/** The height nearest on one side of one that cannot be built. */
export const NearStack = Type.Object(
  {
    blocks: Type.Array(Type.String()),
    wear: Type.Array(Type.String()),
    sumMm: Type.Number(),
    sumIn: Type.Number(),
    sumText: Type.String(),
    angleDeg: Nullable(Type.Number()),
    angleErrorArcsec: Nullable(Type.Number()),
  },
  closed,
);
export type NearStack = Type.Static<typeof NearStack>;

export const Direction = Type.Object(
  {
    turn: Turn,
    endAway: Nullable(End),
    stackEnd: Nullable(End),
    sweepAxis: Type.Union([Type.Literal('x'), Type.Literal('y')]),
    signedJawRad: Type.Number({ description: 'Counter-clockwise positive, from X' }),
    sentence: Type.String(),
    steps: Type.Array(Type.String()),
  },
  closed,
);
export type Direction = Type.Static<typeof Direction>;

export const BudgetLine = Type.Object(
  {
    name: Type.String(),
    valueText: Type.String(),
    distribution: Type.Union([
      Type.Literal('normal'),
      Type.Literal('uniform'),
      Type.Literal('measured'),
    ]),
    standardUncertainty: Type.Number({ minimum: 0, description: 'In `unit`' }),
    unit: Type.String(),
    sensitivityArcsecPerUnit: Type.Number(),
    degreesOfFreedom: Nullable(Type.Number()),
    arcsec: Type.Number({ minimum: 0, description: 'Standard uncertainty as angle' }),
    source: Type.String(),
    assumed: Type.Boolean(),
  },
  closed,
);
export type BudgetLine = Type.Static<typeof BudgetLine>;

export const Budget = Type.Object(
  {
    lines: Type.Array(BudgetLine),
    combinedArcsec: Type.Number(),
    degreesOfFreedom: Nullable(Type.Number()),
    coverageFactor: Type.Number(),
    expandedArcsec: Type.Number({ description: '95 %' }),
    offsetArcsec: Type.Number({
      description: 'What is known to be off already: angle of the stack less angle wanted',
    }),
    toleranceArcsec: Nullable(Type.Number()),
    shareOfTolerance: Nullable(
      Type.Number({ description: '(|offset| + expanded) / tolerance; above 1 it cannot be held' }),
    ),
    sentence: Type.String(),
  },
  closed,
);
export type Budget = Type.Static<typeof Budget>;

/** Numbers of the drawing seen from above. Lengths in mm, angles in radians, counter-clockwise positive. */
export const PlanPicture = Type.Object(
  {
    jawRad: Type.Number(),
    barInViseRad: Type.Number({
      description: 'Bar against the jaw; jawRad plus this lies on an axis',
    }),
    barAxisRad: Type.Number({ description: 'Where the bar lies when set: 0, or a quarter turn' }),
    solidJaw: Type.Union([Type.Literal('rear'), Type.Literal('front')]),
    jawWidthMm: Type.Number(),
    barLengthMm: Nullable(Type.Number()),
    rollDiameterMm: Nullable(Type.Number()),
    stackEnd: Nullable(End),
    stackMm: Nullable(Type.Number()),
    lowRollStackMm: Nullable(Type.Number()),
    endAway: Nullable(End),
    turn: Turn,
    pivotEnd: End,
    malletEnd: End,
    indicatorTouches: Type.String(),
  },
  closed,
);
export type PlanPicture = Type.Static<typeof PlanPicture>;

/** Everything the Plan place shows. */
export const PlanAnswer = Type.Object(
  {
    way: Type.Union([
      Type.Literal('bar'),
      Type.Literal('complement'),
      Type.Literal('both rolls'),
      Type.Literal('sweep the jaw'),
      Type.Literal('jaw straight'),
    ]),
    hand: Hand,
    written: WrittenAngle,
    angle: AngleEcho,
    barAngle: Nullable(AngleEcho),
    exactHeightMm: Nullable(Type.Number()),
    targetMm: Nullable(Type.Number()),
    targetText: Nullable(Type.String()),
    leftoverMm: Nullable(Type.Number({ description: 'Exact height less engraved sum' })),
    stack: Nullable(BuiltStack),
    lowRollStack: Nullable(BuiltStack),
    below: Nullable(NearStack),
    above: Nullable(NearStack),
    angleSetDeg: Nullable(Type.Number({ description: 'What the stack makes of the print angle' })),
    angleErrorArcsec: Nullable(Type.Number({ description: 'Set less wanted' })),
    direction: Direction,
    jawFit: Nullable(
      Type.Object(
        {
          neededMm: Type.Number(),
          widthMm: Nullable(Type.Number()),
          fits: Nullable(Type.Boolean()),
          sentence: Type.String(),
        },
        closed,
      ),
    ),
    toleranceArcsec: Nullable(Type.Number()),
    limit: Nullable(Limit),
    limitSentence: Type.String(),
    targetSlope: Type.Number(),
    budget: Nullable(Budget),
    offers: Type.Array(
      Type.Object(
        {
          decision: Type.Union([
            Type.Literal('steep'),
            Type.Literal('shallow'),
            Type.Literal('nearest'),
          ]),
          choice: Type.String(),
          text: Type.String(),
        },
        closed,
      ),
    ),
    cautions: Type.Array(Caution),
    picture: PlanPicture,
  },
  closed,
);
export type PlanAnswer = Type.Static<typeof PlanAnswer>;

/** A slip that explains, to the last digit, why the blocks taken do not make the height. */
export const Slip = Type.Object(
  {
    code: Type.String(),
    text: Type.String(),
    angleDeg: Nullable(Type.Number({ description: 'The angle it would have made' })),
    angleErrorArcsec: Nullable(Type.Number()),
  },
  closed,
);
export type Slip = Type.Static<typeof Slip>;

/** What the independent re-add says. */
export const TakenCheck = Type.Object(
  {
    adds: Type.Boolean(),
    sumMm: Type.Number(),
    sumIn: Type.Number(),
    sumText: Type.String(),
    wantedText: Type.String(),
    differenceMm: Type.Number({ description: 'Taken less wanted' }),
    angleMadeDeg: Nullable(Type.Number({ description: 'null: higher than the bar is long' })),
    angleErrorArcsec: Nullable(Type.Number()),
    slips: Type.Array(Slip),
    sentence: Type.String(),
  },
  closed,
);
export type TakenCheck = Type.Static<typeof TakenCheck>;
