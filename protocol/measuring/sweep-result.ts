import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { DecisionRule, End } from './measuring-settings.ts';

export const PassName = Type.Union([Type.Literal('out'), Type.Literal('back')]);
export type PassName = Type.Static<typeof PassName>;

export const Verdict = Type.Union([
  Type.Literal('true'),
  Type.Literal('not true'),
  Type.Literal('too close to call'),
]);
export type Verdict = Type.Static<typeof Verdict>;

/** Something the reader must know about this result. The codes are ours; the text is for the machinist. */
export const Caution = Type.Object(
  { code: Type.String({ pattern: '^[a-z][a-z0-9-]*$' }), text: Type.String() },
  closed,
);
export type Caution = Type.Static<typeof Caution>;

/** The line y = a + b·x of one pass or of the whole sweep. Surface line, not reading line. */
const lineFields = {
  points: Type.Integer({ minimum: 2, description: 'How many points the line was fitted to' }),
  slope: Type.Number({
    description: 'b, dimensionless; positive: the right end lies farther away',
  }),
  slopeStandardError: Nullable(
    Type.Number({
      description: 'Plain least-squares standard error with n - 2; null with two points',
    }),
  ),
  interceptMm: Type.Number({ description: 'a, at x = 0' }),
  interceptStandardErrorMm: Nullable(Type.Number()),
  fromMm: Type.Number(),
  toMm: Type.Number(),
  lengthMm: Type.Number({ minimum: 0 }),
  residualStandardDeviationMm: Nullable(Type.Number()),
  straightnessLeastSquaresMm: Type.Number({
    description: 'Peak to valley of the residuals from the least-squares line',
  }),
  straightnessMinimumZoneMm: Type.Number({
    description: 'Least distance along y of two parallel lines that hold all points',
  }),
} as const;

export const PassResult = Type.Object({ pass: PassName, ...lineFields }, closed);
export type PassResult = Type.Static<typeof PassResult>;

export const TapAdvice = Type.Object(
  {
    end: Type.Union([End, Type.Literal('near'), Type.Literal('far')], {
      description: 'End of the vise to strike: left or right; near or far when sweeping along Y',
    }),
    direction: Type.Union(
      [Type.Literal('away'), Type.Literal('toward'), Type.Literal('left'), Type.Literal('right')],
      {
        description: 'Way the surface at the mallet must move, seen by the operator',
      },
    ),
    amountMm: Type.Number({ minimum: 0 }),
    turn: Type.Union([
      Type.Literal('clockwise'),
      Type.Literal('counter-clockwise'),
      Type.Literal('none'),
    ]),
  },
  closed,
);
export type TapAdvice = Type.Static<typeof TapAdvice>;

/** What one sweep says. The same object is shown live, printed as JSON by `taptrue fit`, and recorded. */
export const SweepResult = Type.Object(
  {
    ...lineFields,
    slopeInterceptCovarianceMm: Nullable(Type.Number()),
    outOfTrueRad: Type.Number({ description: 'atan(b)' }),
    outOfTrueArcsec: Type.Number(),
    outOfTrueArcsecExpanded: Nullable(
      Type.Number({ description: 'Expanded uncertainty of the angle, 95 %, two-sided' }),
    ),
    deviationArcsec: Type.Number({
      description: 'Out of true less the target angle; equal to outOfTrueArcsec for target 0',
    }),
    angleStandardUncertaintyArcsec: Nullable(Type.Number({ description: 'u, all parts combined' })),
    guardArcsec: Type.Optional(
      Nullable(
        Type.Number({
          description: 'What the limit is guarded by, t(0.95, ν) u; left out by version 1.0',
        }),
      ),
    ),
    degreesOfFreedom: Nullable(Type.Number({ description: 'Effective; null: large' })),
    uncertaintyParts: Type.Array(
      Type.Object({ name: Type.String(), arcsec: Type.Number({ minimum: 0 }) }, closed),
    ),
    endToEndMm: Type.Number({ description: 'slope × swept length' }),
    endToEndExpandedMm: Nullable(Type.Number()),
    robustSlope: Nullable(Type.Number({ description: 'Theil–Sen slope, a cross-check only' })),
    passes: Type.Array(PassResult, { maxItems: 2 }),
    gapMm: Nullable(
      Type.Number({ description: 'Height of the back line less the out line at mid length' }),
    ),
    closureMm: Nullable(
      Type.Number({ description: 'Surface at the start on return less at the start on leaving' }),
    ),
    tap: Nullable(TapAdvice),
    tapToReadingMm: Nullable(Type.Number({ description: 'As the dial will show it' })),
    tapToAtMm: Nullable(Type.Number({ description: 'Station it is for; null: any station' })),
    limitArcsec: Nullable(Type.Number()),
    decisionRule: DecisionRule,
    verdict: Nullable(Verdict),
    cautions: Type.Array(Caution),
    sentence: Type.String({ description: 'The result in one sentence, in the display unit' }),
  },
  closed,
);
export type SweepResult = Type.Static<typeof SweepResult>;
