import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { Fault } from '../faults/fault.ts';
import { Caution, Verdict } from './sweep-result.ts';

/** Places of one set-up, one way round; more are struck out first. */
export const MOST_SET_UP_POINTS = 72;
/** Kept results of one job that are shown; more stand in the record. */
export const MOST_SET_UPS_KEPT = 20;

const name = Type.String({ pattern: '^[a-z][a-z0-9-]{0,39}$' });
const typed = Type.String({ maxLength: 40 });

export const SetUpAsk = Type.Object(
  { name, needed: Type.Boolean(), words: Type.String(), choices: Type.Array(Type.String()) },
  closed,
);
export type SetUpAsk = Type.Static<typeof SetUpAsk>;

/** One set-up as a screen offers it. */
export const SetUpBrief = Type.Object(
  {
    name,
    title: Type.String(),
    picture: Type.String({ description: 'SVG path on 120 by 80, strokes only' }),
    fit: Type.Union([Type.Literal('line'), Type.Literal('circle')]),
    swept: Type.String(),
    travel: Type.String(),
    axes: Type.Array(Type.Union([Type.Literal('x'), Type.Literal('y')])),
    planes: Type.Array(Type.String()),
    asks: Type.Array(SetUpAsk),
    limitWords: Type.String(),
    cautions: Type.Array(Type.String()),
    isTurned: Type.Boolean({ description: 'May be read again with the tool turned end for end' }),
  },
  closed,
);
export type SetUpBrief = Type.Static<typeof SetUpBrief>;

export const SetUpPoint = Type.Object(
  {
    xMm: Nullable(Type.Number({ description: 'Along the work; null: round it' })),
    angleDeg: Nullable(Type.Number({ description: 'Round the work; null: along it' })),
    readingMm: Type.Number(),
    turned: Type.Boolean({ description: 'Read with the tool turned end for end' }),
  },
  closed,
);
export type SetUpPoint = Type.Static<typeof SetUpPoint>;

/** Where along the line or round the circle it was read. */
export function placeOfPoint({ xMm, angleDeg }: SetUpPoint): number {
  return xMm ?? angleDeg ?? 0;
}

export const SetUpJudged = Type.Object(
  {
    verdict: Nullable(Verdict),
    sentence: Type.String(),
    correction: Type.String({ description: 'What to move, how much, which way; empty: nothing' }),
    figures: Type.Array(Type.Object({ name: Type.String(), value: Type.String() }, closed)),
    cautions: Type.Array(Caution),
    curve: Type.Object(
      {
        meanMm: Type.Number({ description: 'Reading at x = 0, or the mean round a circle' }),
        perMm: Type.Number({ description: 'Of a line: reading per mm; 0 of a circle' }),
        cosMm: Type.Number(),
        sinMm: Type.Number(),
      },
      { ...closed, description: 'The fit, as the dial shows it' },
    ),
    aim: Nullable(
      Type.Object(
        { stackLeftSlope: Type.Number(), stackRightSlope: Type.Number() },
        { ...closed, description: 'Slope the bar in the vise is to show next time' },
      ),
    ),
  },
  closed,
);
export type SetUpJudged = Type.Static<typeof SetUpJudged>;

const choice = {
  name,
  plane: Type.String({ maxLength: 20 }),
  axis: Type.Union([Type.Literal('x'), Type.Literal('y')]),
} as const;

export const SetUpKept = Type.Object(
  {
    number: Type.Integer({ minimum: 1 }),
    ...choice,
    title: Type.String(),
    asked: Type.Record(name, typed),
    points: Type.Array(SetUpPoint, { maxItems: 2 * MOST_SET_UP_POINTS }),
    judged: SetUpJudged,
    simulated: Type.Boolean(),
  },
  closed,
);
export type SetUpKept = Type.Static<typeof SetUpKept>;

/** The set-up being read, beside the vise's own sweeps, and those kept in this job. */
export const SetUpsSection = Type.Object(
  {
    rows: Type.Array(SetUpBrief, { maxItems: 60 }),
    chosen: Nullable(
      Type.Object(
        {
          ...choice,
          asked: Type.Record(name, typed, { description: 'As it was typed' }),
          turned: Type.Boolean(),
          points: Type.Array(SetUpPoint, { maxItems: 2 * MOST_SET_UP_POINTS }),
          judged: Nullable(SetUpJudged),
          whyNot: Nullable(Fault),
          kept: Type.Boolean({ description: 'This very result is kept already' }),
        },
        closed,
      ),
    ),
    kept: Type.Array(SetUpKept, { maxItems: MOST_SET_UPS_KEPT }),
  },
  closed,
);
export type SetUpsSection = Type.Static<typeof SetUpsSection>;
