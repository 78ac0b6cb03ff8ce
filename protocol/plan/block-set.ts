import Type from 'typebox';
import { closed } from '../check/schema-parts.ts';
import { LengthUnit } from '../quantity/units.ts';

/** Grades of gauge blocks: K, 00, 0, 1, 2 by the metric standards, AS-1 and AS-2 by the inch one. */
export const BlockGrade = Type.Union([
  Type.Literal('K'),
  Type.Literal('00'),
  Type.Literal('0'),
  Type.Literal('1'),
  Type.Literal('2'),
  Type.Literal('AS-1'),
  Type.Literal('AS-2'),
]);
export type BlockGrade = Type.Static<typeof BlockGrade>;

/** One size in a set. Sizes are text as engraved, because they are added exactly and never as floats. */
export const GaugeBlock = Type.Object(
  {
    size: Type.String({
      maxLength: 16,
      description: 'As engraved, in the unit of the set: 0.1002, 1.005',
    }),
    count: Type.Optional(Type.Integer({ minimum: 1, maximum: 20, description: 'Absent: one' })),
    deviationUm: Type.Optional(
      Type.Number({
        minimum: -1000,
        maximum: 1000,
        description: 'Certified length less engraved, micrometres',
      }),
    ),
    deviationUin: Type.Optional(
      Type.Number({
        minimum: -40_000,
        maximum: 40_000,
        description: 'Certified length less engraved, microinches',
      }),
    ),
    grade: Type.Optional(BlockGrade),
    struck: Type.Optional(
      Type.Boolean({ description: 'Not to be used: lost, worn, wrung elsewhere' }),
    ),
  },
  closed,
);
export type GaugeBlock = Type.Static<typeof GaugeBlock>;

export const BlockSet = Type.Object(
  {
    id: Type.String({ pattern: '^[a-z0-9][a-z0-9-]{0,39}$' }),
    title: Type.String({ minLength: 1, maxLength: 80 }),
    unit: LengthUnit,
    source: Type.String({ maxLength: 1000, description: 'Where this list of blocks comes from' }),
    fromMemory: Type.Boolean({
      description: 'No document was seen that lists this set: compare it with the case',
    }),
    grade: Type.Optional(BlockGrade),
    blocks: Type.Array(GaugeBlock, { minItems: 1, maxItems: 250 }),
  },
  closed,
);
export type BlockSet = Type.Static<typeof BlockSet>;
