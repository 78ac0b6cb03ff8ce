import { firstQuestion, type PlanSection } from '@taptrue/protocol';

/** The Plan place before anyone has said anything. */
export function emptyPlan(): PlanSection {
  return {
    question: firstQuestion(),
    answer: null,
    refusal: null,
    taken: [],
    takenCheck: null,
    takenLow: [],
    takenLowCheck: null,
    built: false,
    inUse: false,
    jobId: null,
    changed: false,
  };
}
