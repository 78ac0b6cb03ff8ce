import {
  type Answer,
  type Fault,
  isUsable,
  type LinkName,
  type NudgesSection,
  type Setup,
  type SetupChange,
} from '@taptrue/protocol';
import { DONE, done, refused } from '../state/answers.ts';
import type { DeskContext } from './desk.ts';
import type { Measuring, TypedIn } from './measuring.ts';
import {
  countingReversed,
  doublingSuspected,
  travelWords,
  unitConfused,
} from './nudge-suspicions.ts';
import { judgeXNudge, judgeYNudge, type YNudgeFinding } from './nudges.ts';
import { endsTooClose, sweepBeingTaken } from './refusals.ts';

export type NudgeName = 'x' | 'y';

/** Two marked ends closer than this are one place, mm. */
const LEAST_BETWEEN_ENDS_MM = 5;
/** Three readings a second are usual; one lost leaves two thirds of a second. */
const OTHER_AXIS_FRESH_MS = 1000;

const ENDS_MARKED = {
  rises: 'The ends were marked: the count rises as the stylus goes right along the work.',
  falls:
    'The ends were marked: the count falls as the stylus goes right along the work; positions are turned round.',
} as const;

const NOT_BEGUN: Fault = {
  code: 'nudge-not-begun',
  what: 'The reading before the move was not noted.',
  got: '',
  remedy: 'Begin the nudge, move, then finish it.',
};

export function noNudges(): NudgesSection {
  return {
    y: {
      state: 'not done',
      beforeMm: null,
      afterMm: null,
      movedMm: null,
      factor: null,
      finding: '',
      remembered: false,
    },
    x: { state: 'not done', beforeMm: null, afterMm: null, finding: '', remembered: false },
  };
}

/** The nudges before the first sweep, and the marked ends: where each stands and what it found. */
export class NudgeDesk {
  readonly #context: DeskContext;
  readonly #measuring: Measuring;
  #section: NudgesSection;
  /** In this job: a count remembered from before it may be another zero's. */
  #leftEndMarked = false;
  /** What the readout's other axis showed before the move; null: nothing listens to it. */
  #otherAxisFromMm: number | null = null;

  /** @param nudges how they stand when the job begins. */
  constructor(context: DeskContext, measuring: Measuring, nudges: NudgesSection) {
    this.#context = context;
    this.#measuring = measuring;
    this.#section = nudges;
    this.#tell();
  }

  get section(): NudgesSection {
    return this.#section;
  }

  begin(nudge: NudgeName, typed: TypedIn, nowMs: number): Answer {
    const before = this.#measure(nudge, typed, nowMs);
    if (!before.ok) return refused(before.fault);
    if (nudge === 'y') this.#otherAxisFromMm = this.#otherAxisMm(nowMs);
    const state = 'waiting for the move';
    this.#set(nudge, { ...this.#afresh(nudge), state, beforeMm: before.mm });
    return this.#changed();
  }

  /**
   * What the move showed; what of the setup follows from it is set. `saidMm` is for y: toward the column; null
   * where the readout's other axis is to say how far.
   */
  finish(nudge: NudgeName, saidMm: number | null, typed: TypedIn, nowMs: number): Answer {
    if (this.#isFixed(nudge)) return refused(sweepBeingTaken());
    const after = this.#measure(nudge, typed, nowMs);
    if (!after.ok) return refused(after.fault);
    const { state, beforeMm } = this.#section[nudge];
    if (state !== 'waiting for the move' || beforeMm === null) return refused(NOT_BEGUN);
    const { displayUnit, axis } = this.#context.setup;
    if (nudge === 'x') {
      const judged = judgeXNudge(beforeMm, after.mm, displayUnit);
      if (!judged.ok) return refused(judged.fault);
      const { counts, finding } = judged;
      this.#tellReversed('readout', this.#context.setup.counts, counts, finding, nowMs);
      this.#set('x', { ...this.#section.x, state: 'done', afterMm: after.mm, finding });
      return this.#settled({ counts }, finding, nowMs);
    }
    const readMm = this.#otherAxisTravelMm(nowMs);
    const movedMm = saidMm ?? readMm ?? 0;
    const judged = judgeYNudge(beforeMm, after.mm, movedMm, displayUnit, axis);
    if (!judged.ok) return refused(judged.fault);
    const confused = unitConfused(judged.nudge.factor, judged.nudge.finding);
    if (confused) return refused(confused);
    const { rises, factor } = judged.nudge;
    const finding = [judged.nudge.finding, travelWords(saidMm, readMm, displayUnit)]
      .filter(Boolean)
      .join(' ');
    this.#tellSuspicions(judged.nudge, nowMs);
    const found = { afterMm: after.mm, movedMm, factor, finding };
    this.#set('y', { ...this.#section.y, state: 'done', ...found });
    return this.#settled({ rises }, finding, nowMs);
  }

  skip(nudge: NudgeName): Answer {
    this.#set(nudge, { ...this.#afresh(nudge), state: 'skipped' });
    return this.#changed();
  }

  forget(nudge: NudgeName, nowMs: number): Answer {
    if (this.#isFixed(nudge)) return refused(sweepBeingTaken());
    this.#set(nudge, noNudges()[nudge]);
    return this.#settled(nudge === 'y' ? { rises: null } : { counts: null }, '', nowMs);
  }

  /** The stylus stands at one end of the work. Both ends together settle which way the readout counts. */
  markEnd(end: 'left' | 'right', nowMs: number): Answer {
    const count = this.#measuring.fromDevice('readout', nowMs);
    if (!count.ok) return refused(count.fault);
    const { setup } = this.#context;
    if (end === 'left') {
      const answer = this.#context.changeSetup({ leftEndCountMm: count.mm }, nowMs);
      if (!answer.ok) return answer;
      this.#leftEndMarked = true;
      return done('This is the left end, x = 0.');
    }
    const travelMm = count.mm - setup.leftEndCountMm;
    if (Math.abs(travelMm) < LEAST_BETWEEN_ENDS_MM) return refused(endsTooClose(travelMm));
    const counts = travelMm > 0 ? 1 : -1;
    const change = { counts, sweptLengthMm: Math.abs(travelMm) } as const;
    const answer = this.#context.changeSetup(change, nowMs);
    if (!answer.ok) return answer;
    if (this.#leftEndMarked) {
      this.#set('x', {
        ...this.#section.x,
        finding: ENDS_MARKED[counts === 1 ? 'rises' : 'falls'],
      });
      this.#tell();
    }
    return done('This is the right end.');
  }

  /**
   * What a changed setup leaves of the nudges: they belong to the axis swept and to the unit of the dial. Gives the
   * change with what is not known any more.
   */
  belongTo(change: SetupChange): SetupChange {
    const before = this.#context.setup;
    const isOther = (part: 'axis' | 'keyedAs') =>
      change[part] !== undefined && JSON.stringify(change[part]) !== JSON.stringify(before[part]);
    const otherAxis = isOther('axis');
    if (!otherAxis && !isOther('keyedAs')) return change;
    this.#set('y', noNudges().y);
    if (otherAxis) {
      this.#set('x', noNudges().x);
      this.#leftEndMarked = false;
    }
    this.#tell();
    return otherAxis ? { rises: null, counts: null, ...change } : change;
  }

  /** The counting was set by hand: what the marked ends said of it holds no longer. */
  countsGiven(): void {
    if (this.#section.x.state === 'done') return;
    this.#set('x', { ...this.#section.x, finding: '' });
    this.#tell();
  }

  /** Nudges this way of working wants and does not have; shown on every result. */
  missing(setup: Setup): NudgeName[] {
    const missing: NudgeName[] = [];
    if (this.#section.y.state !== 'done') missing.push('y');
    const countingShown = this.#section.x.state === 'done' || this.#section.x.finding !== '';
    if (setup.way === 'readout' && !countingShown) missing.push('x');
    return missing;
  }

  /** The counting gives every position of a sweep its meaning and may not change under it. */
  #isFixed(nudge: NudgeName): boolean {
    return nudge === 'x' && this.#context.isSweeping;
  }

  #otherAxisMm(nowMs: number): number | null {
    const { otherAxis } = this.#measuring.latest;
    if (!otherAxis || !isUsable(otherAxis)) return null;
    return nowMs - otherAxis.atMs > OTHER_AXIS_FRESH_MS ? null : otherAxis.valueMm;
  }

  /** How far the readout's other axis went since the nudge began; which way is as the nudge asks. */
  #otherAxisTravelMm(nowMs: number): number | null {
    const nowAtMm = this.#otherAxisMm(nowMs);
    if (nowAtMm === null || this.#otherAxisFromMm === null) return null;
    return Math.abs(nowAtMm - this.#otherAxisFromMm);
  }

  #tellSuspicions({ rises, factor, finding }: YNudgeFinding, nowMs: number): void {
    const doubling = doublingSuspected(factor, finding);
    if (doubling) this.#context.raise('indicator', doubling, nowMs);
    this.#tellReversed('indicator', this.#context.setup.rises, rises, finding, nowMs);
  }

  #tellReversed<T>(link: LinkName, before: T | null, now: T, finding: string, nowMs: number): void {
    if (before === null || before === now) return;
    this.#context.raise(link, countingReversed(link, finding), nowMs);
  }

  #measure(nudge: NudgeName, typed: TypedIn, nowMs: number) {
    return nudge === 'y'
      ? this.#measuring.indicator(typed, nowMs)
      : this.#measuring.fromDevice('readout', nowMs);
  }

  /** A nudge not done, but for what the marked ends showed: that does not hang on the nudge. */
  #afresh<N extends NudgeName>(nudge: N): NudgesSection[N] {
    const { state, finding } = this.#section.x;
    const byEnds = nudge === 'x' && state !== 'done' ? finding : '';
    return { ...noNudges()[nudge], finding: byEnds };
  }

  #settled(change: SetupChange, finding: string, nowMs: number): Answer {
    this.#tell();
    const answer = this.#context.changeSetup(change, nowMs);
    return answer.ok ? done(finding) : answer;
  }

  #changed(): Answer {
    this.#tell();
    this.#context.standingChanged();
    return DONE;
  }

  #set<N extends NudgeName>(nudge: N, value: NudgesSection[N]): void {
    this.#section = { ...this.#section, [nudge]: value };
  }

  #tell(): void {
    this.#context.store.set('nudges', this.#section);
  }
}

/** A nudge broken off by the end of the service is not done; what was found is marked as remembered. */
export function rememberedNudges({ x, y }: NudgesSection): NudgesSection {
  const fresh = noNudges();
  const byEnds = x.finding === '' ? fresh.x : { ...fresh.x, finding: x.finding, remembered: true };
  return {
    y: y.state === 'done' ? { ...y, remembered: true } : fresh.y,
    x: x.state === 'done' ? { ...x, remembered: true } : byEnds,
  };
}
