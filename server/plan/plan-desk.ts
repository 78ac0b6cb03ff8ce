import {
  type Answer,
  type BlockSet,
  type BudgetAssumptions,
  declaredPivotMm,
  type End,
  firstQuestion,
  JOB_FILE_VERSION,
  type JobFile,
  type PlanAnswer,
  type PlanChange,
  type PlanQuestion,
  parseLengthMm,
  type Setup,
  type SetupChange,
  type SweepResult,
  type TakenCheck,
} from '@taptrue/protocol';
import { planNotBuilt, planNotMade } from '../bench/refusals.ts';
import { DONE, refused } from '../state/answers.ts';
import type { SectionStore } from '../state/section-store.ts';
import { checkTaken, makePlan } from './make-plan.ts';
import { piecesOf, STANDARD_SETS } from './sets/standard-sets.ts';

/** What a plan carries into the sweep; the rest of the setup is the bench's own. */
export type PlannedSetup = Pick<
  SetupChange,
  'limit' | 'axis' | 'targetSlope' | 'sweptLengthMm' | 'displayUnit'
>;

/** From the print to the stack and the limit: the question as it is filled in, and what it makes. */
export class PlanDesk {
  readonly #store: SectionStore;
  #question: PlanQuestion;
  #own: BlockSet[] = [];
  #taken: string[] = [];
  /** Blocks under both rolls: the ones under the other roll. */
  #takenLow: string[] = [];
  #used: string | null = null;
  #jobId: string | null = null;
  #kept: string | null = null;
  /** The last sweep taken by this very plan. */
  #measured: BudgetAssumptions['measuredSweep'] = null;

  constructor(store: SectionStore, remembered: PlanQuestion | null) {
    this.#store = store;
    this.#question = remembered ?? firstQuestion();
    this.#tellSets();
    this.#tell();
  }

  get question(): PlanQuestion {
    return this.#question;
  }

  get jobId(): string | null {
    return this.#jobId;
  }

  /** The plan as a job that can be kept, exported or opened elsewhere. */
  get jobFile(): JobFile {
    const set = this.#own.find((own) => own.id === this.#question.setId);
    return {
      taptrueJob: JOB_FILE_VERSION,
      question: this.#question,
      ...(set ? { set } : {}),
      taken: [...this.#taken],
      takenLow: [...this.#takenLow],
    };
  }

  get sets(): readonly BlockSet[] {
    return [...STANDARD_SETS, ...this.#own];
  }

  setOwnSets(own: readonly BlockSet[]): void {
    this.#own = [...own];
    this.#tellSets();
    this.#tell();
  }

  change(change: PlanChange): Answer {
    const before = this.#question;
    this.#question = { ...before, ...change };
    // Blocks taken for another height are blocks for nothing.
    if (this.#stackKey(before) !== this.#stackKey(this.#question)) this.#forgetTaken();
    this.#tell();
    return DONE;
  }

  taken(blocks: readonly string[], under: 'raised roll' | 'other roll' = 'raised roll'): Answer {
    const typed = blocks.map((block) => block.trim()).filter((block) => block !== '');
    if (under === 'other roll') this.#takenLow = typed;
    else this.#taken = typed;
    this.#tell();
    return DONE;
  }

  /** Opens a job; `id` is where it is kept, null where it comes from a file or is a copy. */
  open(file: JobFile, id: string | null): void {
    this.#question = file.question;
    this.#taken = [...file.taken];
    this.#takenLow = [...(file.takenLow ?? [])];
    this.#jobId = id;
    this.#kept = id === null ? null : JSON.stringify(this.jobFile);
    this.#used = null;
    this.#tell();
  }

  kept(id: string): void {
    this.#jobId = id;
    this.#kept = JSON.stringify(this.jobFile);
    this.#tell();
  }

  /** The kept job is gone; what stands here is a plan of its own again. */
  removed(id: string): void {
    if (this.#jobId !== id) return;
    this.#jobId = null;
    this.#kept = null;
    this.#tell();
  }

  /** Bar, jaw and set stay: tomorrow's job is done in the same vise. */
  renew(): Answer {
    const { bar, jaw, setId, without, wear, displayUnit, budget } = this.#question;
    this.#question = { ...firstQuestion(), bar, jaw, setId, without, wear, displayUnit, budget };
    this.#forgetTaken();
    this.#jobId = null;
    this.#kept = null;
    this.#used = null;
    this.#tell();
    return DONE;
  }

  /** What the sweep takes over; refused until the re-add adds up. */
  use(
    setup: Setup,
  ): { ok: true; change: PlannedSetup; note: string } | { ok: false; answer: Answer } {
    const { answer, refusal, built } = this.#store.get('plan');
    if (!answer) return { ok: false, answer: refused(refusal?.fault ?? planNotMade()) };
    if (!built) return { ok: false, answer: refused(planNotBuilt()) };
    return { ok: true, ...carriedOver(this.#question, answer, setup) };
  }

  /** The bench was set up anew: its vise may turn about the other clamp. */
  setUp(): void {
    const pivotEnd = this.#store.get('plan').answer?.picture.pivotEnd;
    if (pivotEnd !== undefined && pivotEnd !== pivotEndOf(this.#store.get('setup'))) this.#tell();
  }

  /** The sweep's setup has taken it over. */
  carried(): void {
    this.#used = this.#usedKey();
    this.#tell();
  }

  /** A sweep by this plan has ended: the budget takes its measured part in place of the planned one. */
  swept(result: SweepResult): void {
    const { angleStandardUncertaintyArcsec, degreesOfFreedom } = result;
    if (!this.#store.get('plan').inUse || angleStandardUncertaintyArcsec === null) return;
    this.#measured = {
      standardUncertaintyArcsec: angleStandardUncertaintyArcsec,
      degreesOfFreedom,
    };
    this.#tell();
  }

  #usedKey(): string {
    return JSON.stringify(this.#question);
  }

  /** What the stack follows from: the re-add survives a change of tolerance, not one of angle or set. */
  #stackKey(question: PlanQuestion): string {
    const { angle, measuredFrom, bar, setId, without, lowStack, wear, decisions, hand } = question;
    return JSON.stringify([
      angle,
      measuredFrom,
      bar,
      setId,
      without,
      lowStack,
      wear,
      decisions,
      hand,
    ]);
  }

  #tellSets(): void {
    const own = new Set(this.#own);
    this.#store.set('sets', {
      sets: this.sets.map((set) => ({ set, own: own.has(set), pieces: piecesOf(set) })),
    });
  }

  #tell(): void {
    const inUse = this.#used !== null && this.#used === this.#usedKey();
    if (!inUse) this.#measured = null;
    const { budget } = this.#question;
    const asked = this.#measured
      ? { ...this.#question, budget: { ...budget, measuredSweep: this.#measured } }
      : this.#question;
    const isEmpty = this.#question.angle.text.trim() === '';
    const planned = isEmpty
      ? null
      : makePlan(asked, this.sets, pivotEndOf(this.#store.get('setup')));
    const answer = planned?.ok ? planned.answer : null;
    const refusal =
      planned && !planned.ok
        ? { field: planned.field, fault: planned.fault, meanings: planned.meanings ?? [] }
        : null;
    const needsStack =
      answer !== null && answer.way !== 'sweep the jaw' && answer.way !== 'jaw straight';
    const takenCheck = answer?.stack ? this.#check(this.#taken, 'stack') : null;
    const takenLowCheck = answer?.lowRollStack ? this.#check(this.#takenLow, 'low roll') : null;
    const adds =
      (takenCheck?.adds ?? false) && (answer?.lowRollStack ? (takenLowCheck?.adds ?? false) : true);
    this.#store.set('plan', {
      question: this.#question,
      answer,
      refusal,
      taken: [...this.#taken],
      takenCheck,
      takenLow: [...this.#takenLow],
      takenLowCheck,
      built: answer !== null && (!needsStack || adds),
      inUse,
      jobId: this.#jobId,
      changed: this.#kept !== null && this.#kept !== JSON.stringify(this.jobFile),
    });
  }

  #check(taken: readonly string[], which: 'stack' | 'low roll'): TakenCheck | null {
    if (taken.length === 0) return null;
    const checked = checkTaken(this.#question, this.sets, taken, which);
    return checked.ok ? checked.value : null;
  }

  #forgetTaken(): void {
    this.#taken = [];
    this.#takenLow = [];
  }
}

/** The end the vise turns about: the one the mallet does not strike. */
function pivotEndOf(setup: Setup): End {
  return setup.malletMm < declaredPivotMm(setup) ? 'right' : 'left';
}

function carriedOver(
  question: PlanQuestion,
  answer: PlanAnswer,
  setup: Setup,
): { change: PlannedSetup; note: string } {
  const typed = question.sweptLength === null ? null : parseLengthMm(question.sweptLength);
  const sweptLengthMm = typed?.ok
    ? typed.value
    : (answer.picture.barLengthMm ?? setup.sweptLengthMm);
  return {
    change: {
      axis: answer.direction.sweepAxis,
      targetSlope: answer.targetSlope,
      sweptLengthMm,
      displayUnit: question.displayUnit,
      ...(answer.limit ? { limit: answer.limit } : {}),
    },
    note: `${answer.direction.sentence} ${answer.limitSentence}`,
  };
}
