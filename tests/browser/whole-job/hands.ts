import type { Page } from 'playwright-core';
import { type RunningBench, until } from './running-bench.ts';

/** A stranger's hands on the page of the simulated bench: only what the screen shows is pressed. */
export class Hands {
  readonly #page: Page;
  readonly #bench: RunningBench;

  constructor(page: Page, bench: RunningBench) {
    this.#page = page;
    this.#bench = bench;
  }

  async press(label: string): Promise<void> {
    await this.#page.getByRole('button', { name: label, exact: false }).first().click();
  }

  async goTo(place: string): Promise<void> {
    await this.#page.getByRole('link', { name: place, exact: true }).first().click();
  }

  async nudgeSaddle(): Promise<void> {
    await this.press('Begin the nudge');
    await until(
      'the reading before is noted',
      () => this.#bench.state().nudges.y.state === 'waiting for the move',
    );
    await this.press('Away 0.005 in');
    await settle();
    await this.press('The saddle has moved');
    await until('the saddle nudge is done', () => this.#bench.state().nudges.y.state === 'done');
  }

  async nudgeTable(): Promise<void> {
    await this.press('Go to right end');
    await settle();
    await this.press('Begin the nudge');
    await until(
      'the count before is noted',
      () => this.#bench.state().nudges.x.state === 'waiting for the move',
    );
    await this.press('Go to left end');
    await settle();
    await this.press('The table has moved');
    await until('the table nudge is done', () => this.#bench.state().nudges.x.state === 'done');
  }

  async traverse(): Promise<void> {
    await this.press('Traverse fast');
    await until('the table moves', () => this.#bench.state().demo?.traversing === true);
    await until('the table stands', () => this.#bench.state().demo?.traversing === false);
    await settle();
  }

  async setStage(stage: string): Promise<void> {
    await this.#page
      .getByRole('group', { name: 'How tight the clamps are' })
      .getByRole('button', { name: stage })
      .click();
    await until(`the clamps are ${stage}`, () => this.#bench.state().bench.stage === stage);
  }

  /** Parks at the far end and strikes as the screen says until it says stop, or past. */
  async tapUntilTold(): Promise<void> {
    await this.press('Go to right end');
    await this.#tableStands();
    await this.press('It is parked');
    await until('the stylus is parked', () => this.#bench.state().tap !== null);
    for (let blows = 0; blows < 40; blows += 1) {
      const { tap } = this.#bench.state();
      // The parking was ended, and the screen says why: the next sweep shows where the vise lies.
      if (tap === null) return;
      if (tap.standing !== 'keep tapping' || tap.sweepAgain.includes('brought little')) return;
      const wantedMm = tap.remainingAtMalletMm!;
      await this.press(
        Math.abs(wantedMm) > 0.12 ? 'firm' : Math.abs(wantedMm) > 0.04 ? 'medium' : 'light',
      );
      await this.press(wantedMm > 0 ? 'Right away' : 'Right toward');
      await settle();
    }
  }

  /** On a busy machine the readout tells late that the table moved; a hand looks at it before it parks. */
  async #tableStands(): Promise<void> {
    const placeMm = () => this.#bench.state().live.readout?.valueMm ?? 0;
    for (let looks = 0; looks < 20; looks += 1) {
      const beforeMm = placeMm();
      await settle();
      if (Math.abs(placeMm() - beforeMm) < STANDS_WITHIN_MM && looks > 0) return;
    }
  }
}

/** A readout trembles by a digit or two; a table that moves goes farther in 0.3 s. */
const STANDS_WITHIN_MM = 0.05;

/** As long as a needle takes to come to rest and be seen: eight readings at fifty a second, and the way to the page. */
function settle(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 300));
}
