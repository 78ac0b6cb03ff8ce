import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { Fault } from '../faults/fault.ts';
import { BlockSet } from './block-set.ts';
import { PlanAnswer, TakenCheck } from './plan.ts';
import { PlanQuestion } from './plan-question.ts';

/** What a typed angle may have meant, where it has two meanings: the page asks. */
export const AngleMeaning = Type.Object({ text: Type.String(), says: Type.String() }, closed);
export type AngleMeaning = Type.Static<typeof AngleMeaning>;

/** From the print to the stack and the limit. Changes as the Plan place is filled in. */
export const PlanSection = Type.Object(
  {
    question: PlanQuestion,
    answer: Nullable(PlanAnswer),
    refusal: Nullable(
      Type.Object(
        {
          field: Type.String({
            description: 'Field of the question that stops the plan; empty: none',
          }),
          fault: Fault,
          meanings: Type.Array(AngleMeaning, { maxItems: 4 }),
        },
        { ...closed, description: 'Why there is no answer; null where there is one' },
      ),
    ),
    taken: Type.Array(Type.String(), { maxItems: 40, description: 'Blocks keyed in the re-add' }),
    takenCheck: Nullable(TakenCheck),
    takenLow: Type.Array(Type.String(), {
      maxItems: 40,
      description: 'Blocks under both rolls: the ones under the other roll',
    }),
    takenLowCheck: Nullable(TakenCheck),
    built: Type.Boolean({ description: 'The re-add adds up, or the job needs no stack' }),
    inUse: Type.Boolean({
      description: 'The sweep’s limit, axis and target come from this very plan',
    }),
    jobId: Nullable(Type.String({ description: 'The kept job it was opened from or kept as' })),
    changed: Type.Boolean({ description: 'Differs from the kept job' }),
  },
  closed,
);
export type PlanSection = Type.Static<typeof PlanSection>;

/** Block sets: shipped ones, then the shop’s own. Sent once, and when a set changes. */
export const SetsSection = Type.Object(
  {
    sets: Type.Array(
      Type.Object({ set: BlockSet, own: Type.Boolean(), pieces: Type.Integer() }, closed),
      { maxItems: 80 },
    ),
  },
  closed,
);
export type SetsSection = Type.Static<typeof SetsSection>;

export const JobSummary = Type.Object(
  {
    id: Type.String({ pattern: '^[a-z0-9-]{1,60}$' }),
    title: Type.String(),
    angleText: Type.String(),
    hand: Type.String(),
    changedAt: Type.String({ description: 'Wall clock, ISO 8601' }),
  },
  closed,
);
export type JobSummary = Type.Static<typeof JobSummary>;

/** Kept jobs, last changed first. */
export const JobsSection = Type.Object({ jobs: Type.Array(JobSummary, { maxItems: 500 }) }, closed);
export type JobsSection = Type.Static<typeof JobsSection>;
