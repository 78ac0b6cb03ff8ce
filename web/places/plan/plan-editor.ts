import type { Answer, Command, PlanChange, PlanQuestion } from '@taptrue/protocol';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import type { Screen } from '../../state/latest-state.ts';

/**
 * Writes into the plan's question. What was sent and is not answered yet counts already, so that two fields of
 * one value filled in quick succession do not undo each other.
 */
export class PlanEditor {
  readonly #handle: BenchHandle;
  #screen: Screen;
  #sent: PlanChange = {};
  #unanswered = 0;

  constructor(handle: BenchHandle, screen: Screen) {
    this.#handle = handle;
    this.#screen = screen;
  }

  follow(screen: Screen): void {
    this.#screen = screen;
  }

  /** The question with everything that is on its way. */
  get question(): PlanQuestion {
    return { ...this.#screen.state.plan.question, ...this.#sent };
  }

  async change(change: PlanChange): Promise<void> {
    this.#sent = { ...this.#sent, ...change };
    await this.#send({ kind: 'change plan', change });
  }

  command(command: Command): Promise<Answer> {
    return this.#handle.command(command);
  }

  /** Carries the plan into the sweep and goes there. */
  async goOn(): Promise<void> {
    const answer = await this.#handle.command({ kind: 'use plan' });
    if (answer.ok) location.hash = 'sweep';
  }

  async #send(command: Command): Promise<void> {
    this.#unanswered += 1;
    await this.#handle.command(command);
    this.#unanswered -= 1;
    if (this.#unanswered === 0) this.#sent = {};
  }
}
