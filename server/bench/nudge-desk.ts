import type { Fault, NudgesSection, Setup, SetupChange } from '@taptrue/protocol';
import { judgeXNudge, judgeYNudge } from './nudges.ts';

export type NudgeName = 'x' | 'y';

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

/** The two nudges before the first sweep: where each stands and what it found. */
export class NudgeDesk {
  #section: NudgesSection;

  constructor(remembered: NudgesSection | null) {
    this.#section = remembered ? rememberedFrom(remembered) : noNudges();
  }

  get section(): NudgesSection {
    return this.#section;
  }

  begin(nudge: NudgeName, beforeMm: number): void {
    this.#set(nudge, { ...noNudges()[nudge], state: 'waiting for the move', beforeMm });
  }

  /** What the move showed, and what of the setup follows from it. `movedMm` is for y: toward the column. */
  finish(
    nudge: NudgeName,
    afterMm: number,
    movedMm: number,
    setup: Setup,
  ): { ok: true; change: SetupChange; finding: string } | { ok: false; fault: Fault } {
    const { state, beforeMm } = this.#section[nudge];
    if (state !== 'waiting for the move' || beforeMm === null)
      return { ok: false, fault: NOT_BEGUN };
    if (nudge === 'x') {
      const judged = judgeXNudge(beforeMm, afterMm, setup.displayUnit);
      if (!judged.ok) return judged;
      this.#set('x', { ...this.#section.x, state: 'done', afterMm, finding: judged.finding });
      return { ok: true, change: { counts: judged.counts }, finding: judged.finding };
    }
    const judged = judgeYNudge(beforeMm, afterMm, movedMm, setup.displayUnit);
    if (!judged.ok) return judged;
    const { rises, factor, finding } = judged.nudge;
    this.#set('y', { ...this.#section.y, state: 'done', afterMm, movedMm, factor, finding });
    return { ok: true, change: { rises }, finding };
  }

  skip(nudge: NudgeName): void {
    this.#set(nudge, { ...noNudges()[nudge], state: 'skipped' });
  }

  forget(nudge: NudgeName): void {
    this.#set(nudge, noNudges()[nudge]);
  }

  /** Nudges this way of working wants and does not have; shown on every result. */
  missing(setup: Setup): NudgeName[] {
    const missing: NudgeName[] = [];
    if (this.#section.y.state !== 'done') missing.push('y');
    if (setup.way === 'readout' && this.#section.x.state !== 'done') missing.push('x');
    return missing;
  }

  #set<N extends NudgeName>(nudge: N, value: NudgesSection[N]): void {
    this.#section = { ...this.#section, [nudge]: value };
  }
}

/** A nudge broken off by the end of the service is not done; what was done is marked as remembered. */
function rememberedFrom(section: NudgesSection): NudgesSection {
  const fresh = noNudges();
  return {
    y: section.y.state === 'done' ? { ...section.y, remembered: true } : fresh.y,
    x: section.x.state === 'done' ? { ...section.x, remembered: true } : fresh.x,
  };
}
