import type { Setup, Stage, SweepResult, SweepSection } from '@taptrue/protocol';
import { shiftedMm } from '../measure/verdict/turn-between.ts';
import type { TappedEnd } from './pivot-in-use.ts';
import { shiftedWords } from './pivot-words.ts';
import type { SweepRun } from './sweep-run.ts';

/** The last sweep that gave a line, and what happened to the vise since. */
export interface LastSweep {
  run: SweepRun;
  result: SweepResult;
  tappedSince: boolean;
  clampsChangedSince: boolean;
  /** Why it is void: another set-up since; empty: it is not. */
  voidSince: string;
}

/** What happened to vise and indicator since the last sweep that gave a line. */
export class SinceSweep {
  /** The end tapped last; null: nothing was tapped. */
  tappedEnd: TappedEnd | null = null;
  /** Even if they were put back: loosening and tightening turn a vise. */
  clampChanges = 0;
  /** Why the dial does not share the zero of that sweep; null: it does. */
  zeroMoved: string | null = null;
  /** What of the set-up is another than it was measured under, in words; once so it stays so. */
  readonly setUpChanged = new Set<string>();
  #zeroMovedDuringSweep = false;

  get clampsChanged(): boolean {
    return this.clampChanges > 0;
  }

  get isTapped(): boolean {
    return this.tappedEnd !== null;
  }

  noteZeroMoved(why: string, isSweeping: boolean): void {
    this.zeroMoved = why;
    if (isSweeping) this.#zeroMovedDuringSweep = true;
  }

  /** Nothing was noticed, and yet the whole line lies elsewhere: then the zero moved, or the bar did. */
  noteShift(before: SweepResult, after: SweepResult, setup: Setup): void {
    if (this.isTapped || this.clampsChanged || this.zeroMoved !== null) return;
    const shifted = shiftedMm(before, after);
    if (shifted !== null) this.zeroMoved = shiftedWords(shifted, setup);
  }

  sweepBegins(): void {
    this.#zeroMovedDuringSweep = false;
  }

  /** A sweep gave a line: nothing happened since, but a zero moved during it holds for no stop reading. */
  sweepEnded(): void {
    this.tappedEnd = null;
    this.clampChanges = 0;
    this.setUpChanged.clear();
    if (!this.#zeroMovedDuringSweep) this.zeroMoved = null;
  }

  /** Why the sweep is void; empty: it was measured under what is set now. */
  get voidWords(): string {
    if (this.setUpChanged.size === 0) return '';
    return `Changed since this sweep: ${[...this.setUpChanged].join(', ')}. It says what it was measured under, and nothing of what is set now.`;
  }

  /** As the section of that sweep, taken at `swept`, says it now. */
  words(swept: Stage, now: Stage): Pick<SweepSection, 'outdated' | 'zeroMoved'> {
    const restaged =
      swept === now
        ? `The clamps were changed since this sweep, and are ${now} again.`
        : `The clamps went from ${swept} to ${now} since this sweep.`;
    const clamped = this.clampsChanged ? restaged : '';
    const tapped = this.isTapped ? 'The vise was tapped since this sweep.' : clamped;
    return {
      outdated: this.voidWords || tapped,
      zeroMoved: this.zeroMoved ?? '',
    };
  }
}
