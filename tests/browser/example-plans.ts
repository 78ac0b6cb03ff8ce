import type { BenchState, PlanQuestion } from '@taptrue/protocol';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { PlanDesk } from '@taptrue/server/plan/plan-desk.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { nothingSet } from './example-states.ts';

/** The example bench with a plan that the service's own mathematics has made of the question. */
export function planOf(
  question: Partial<PlanQuestion>,
  taken: readonly string[] = [],
  takenLow: readonly string[] = [],
): BenchState {
  const store = new SectionStore(firstState('bench', '0.1.0'));
  const desk = new PlanDesk(store, null);
  desk.change(question);
  desk.taken(taken);
  desk.taken(takenLow, 'other roll');
  return {
    ...nothingSet(),
    plan: store.state.plan,
    sets: store.state.sets,
    jobs: {
      jobs: [
        {
          id: 'bracket-1',
          title: 'bracket, op 20',
          angleText: '12deg30min',
          hand: 'left-away',
          changedAt: '2026-11-24T09:30:00.000Z',
        },
      ],
    },
  };
}

/** 7°30′ ±5′ over a 5 in bar from the 81-piece set: 0.6526 in, 0.1006 + 0.102 + 0.450. */
const BRACKET: Partial<PlanQuestion> = {
  job: 'bracket, op 20',
  angle: { text: '7deg30min', kind: 'angle' },
  referenceLine: 'datum A',
  tolerance: { kind: 'angle', text: '5min' },
};

export const emptyPlanPlace = () => planOf({});
export const examplePlanMade = () => planOf(BRACKET);
export const examplePlanBuilt = () => planOf(BRACKET, ['0.450', '0.1006', '0.102']);
export const examplePlanWrong = () => planOf(BRACKET, ['0.450', '0.106', '0.102']);
export const examplePlanAsked = () => planOf({ angle: { text: '12.30', kind: 'angle' } });
export const examplePlanSteep = () =>
  planOf({ angle: { text: '60deg', kind: 'angle' }, wear: '0.050', hand: 'left-away' });
/** 1 degree over 5 in cannot be built from the 81-piece set with one stack. */
export const examplePlanTooThin = () => planOf({ angle: { text: '1deg', kind: 'angle' } });
export const examplePlanBothRolls = () =>
  planOf({
    angle: { text: '1deg', kind: 'angle' },
    decisions: { steep: null, shallow: 'both rolls', nearest: null },
  });
