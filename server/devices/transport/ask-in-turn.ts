import { type Clock, OneTimer } from './clock.ts';
import { type LineTurn, OWN_LINE } from './line-turns.ts';

/** A device that answers at all does so in a tenth of this; then the request is taken as lost. */
export const ANSWER_WITHIN_MS = 500;

export interface AskOptions {
  clock: Clock;
  /** From one request to the next; null: only on demand. */
  everyMs: number | null;
  /** Left out: ANSWER_WITHIN_MS. */
  answerWithinMs?: number;
  /** Left out: nobody else asks on this line. */
  turn?: LineTurn;
  send(): void;
  /** No answer came in time. */
  unanswered(): void;
}

/** Requests to one device, never more than one outstanding: a slow device must not collect a queue. */
export class AskInTurn {
  private readonly timer: OneTimer;
  private running = false;
  private outstanding = false;
  private wanted = false;
  private lastAskedMs = 0;
  private readonly turn: LineTurn;

  constructor(private readonly options: AskOptions) {
    this.timer = new OneTimer(options.clock);
    this.turn = options.turn ?? OWN_LINE;
  }

  /** A request is out, or waits for its turn. */
  get isOutstanding(): boolean {
    return this.outstanding;
  }

  start(): void {
    this.running = true;
    if (this.options.everyMs !== null || this.wanted) this.ask();
  }

  stop(): void {
    this.running = false;
    this.outstanding = false;
    this.wanted = false;
    this.timer.clear();
    this.turn.leave();
  }

  /** Asks now; where a request is outstanding its answer serves, before start the first request does. */
  askNow(): void {
    if (!this.running) this.wanted = true;
    else if (!this.outstanding) this.ask();
  }

  /** A frame came. */
  answered(): void {
    if (!this.outstanding) return;
    this.outstanding = false;
    this.timer.clear();
    this.turn.release('answered');
    const { everyMs, clock } = this.options;
    if (everyMs === null) return;
    this.timer.set(Math.max(0, this.lastAskedMs + everyMs - clock.now()), () => this.ask());
  }

  private ask(): void {
    this.wanted = false;
    this.outstanding = true;
    this.turn.take(() => this.askInOwnTurn());
  }

  /** Its wait begins here: what another's request takes is not charged to it. */
  private askInOwnTurn(): void {
    this.lastAskedMs = this.options.clock.now();
    this.timer.set(this.options.answerWithinMs ?? ANSWER_WITHIN_MS, () => {
      this.outstanding = false;
      this.turn.release('unanswered');
      this.options.unanswered();
      if (this.running && this.options.everyMs !== null) this.ask();
    });
    this.options.send();
  }
}
