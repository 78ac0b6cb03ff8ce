import { type Clock, OneTimer } from './clock.ts';

/** One asker's place on a line. It has the line from `granted` to `release`; before that it writes nothing. */
export interface LineTurn {
  /** Calls `granted` once the line is its own: at once where it is free. One wish at a time. */
  take(granted: () => void): void;
  /** The request is over. The line rests before the next one; what comes in that time is still its own. */
  release(how: 'answered' | 'unanswered'): void;
  /** Whether what comes now may be an answer to it: another's answer can look the same but for what it means. */
  hears(): boolean;
  /** How long the others on the line may hold it between two of its own requests. */
  othersHoldMs(): number;
  leave(): void;
}

/** A line of one's own is always free. */
export const OWN_LINE: LineTurn = {
  take: (granted) => granted(),
  release: () => undefined,
  hears: () => true,
  othersHoldMs: () => 0,
  leave: () => undefined,
};

/** A device that is late is late by little; what comes even later than this could be taken for another's answer. */
export const RESTS_MS = 100;
/**
 * Between an answer and the next request: devices know a frame by the 3.5 characters of silence before it, 4 ms at
 * 9600 baud. Meanwhile the chunk that ended the turn has gone round to everyone on the line.
 */
export const GAP_MS = 5;
/** So many requests in a row without an answer: it is switched off, or has another number. */
const MISSES_TO_BE_AWAY = 3;
/** A device that is away is asked this seldom while another shares its line: each try costs that one its wait. */
export const AWAY_EVERY_MS = 2000;

/** Who asks on which line: never two at once, and in the order they came. */
export class LineTurns {
  readonly #lines = new Map<string, SharedLine>();
  readonly #clock: Clock;

  constructor(clock: Clock) {
    this.#clock = clock;
  }

  /** How many lines have an asker now. */
  get linesUsed(): number {
    return this.#lines.size;
  }

  /** A place on the line of this key; null: a line of its own. `holdsMs`: its own wait for an answer. */
  on(key: string | null, holdsMs: number): LineTurn {
    if (key === null) return OWN_LINE;
    return new Member(
      () => {
        const line = this.#lines.get(key) ?? new SharedLine(this.#clock);
        this.#lines.set(key, line);
        return line;
      },
      () => this.#lines.delete(key),
      { clock: this.#clock, holdsMs },
    );
  }
}

/** Members wait once each at most, so the queue is never longer than there are devices on the line. */
class SharedLine {
  readonly members = new Set<Member>();
  holder: Member | null = null;
  readonly #waiting: Member[] = [];
  readonly #rest: OneTimer;

  constructor(clock: Clock) {
    this.#rest = new OneTimer(clock);
  }

  wait(member: Member): void {
    this.#waiting.push(member);
    this.#next();
  }

  release(member: Member, restMs: number): void {
    if (this.holder !== member) return;
    if (restMs > 0) this.#rest.set(restMs, () => this.#free());
    else this.#free();
  }

  remove(member: Member): void {
    this.members.delete(member);
    const at = this.#waiting.indexOf(member);
    if (at >= 0) this.#waiting.splice(at, 1);
    if (this.holder !== member) return;
    // Its answer may still come, and is nobody's.
    if (this.members.size > 0) this.#rest.set(RESTS_MS, () => this.#free());
    else this.#free();
  }

  #free(): void {
    this.#rest.clear();
    this.holder = null;
    this.#next();
  }

  #next(): void {
    if (this.holder !== null) return;
    const next = this.#waiting.shift();
    if (next === undefined) return;
    this.holder = next;
    next.granted();
  }
}

class Member implements LineTurn {
  readonly #join: () => SharedLine;
  readonly #lastLeft: () => void;
  readonly #options: { clock: Clock; holdsMs: number };
  readonly #backTimer: OneTimer;
  #line: SharedLine | null = null;
  #granted: (() => void) | null = null;
  #misses = 0;
  #grantedAtMs = Number.NEGATIVE_INFINITY;

  constructor(
    join: () => SharedLine,
    lastLeft: () => void,
    options: { clock: Clock; holdsMs: number },
  ) {
    this.#join = join;
    this.#lastLeft = lastLeft;
    this.#options = options;
    this.#backTimer = new OneTimer(options.clock);
  }

  take(granted: () => void): void {
    if (this.#line === null) {
      this.#line = this.#join();
      this.#line.members.add(this);
    }
    const line = this.#line;
    this.#granted = granted;
    const isAway = this.#misses >= MISSES_TO_BE_AWAY && line.members.size > 1;
    const waitMs = isAway ? this.#grantedAtMs + AWAY_EVERY_MS - this.#options.clock.now() : 0;
    if (waitMs > 0) this.#backTimer.set(waitMs, () => line.wait(this));
    else line.wait(this);
  }

  granted(): void {
    this.#grantedAtMs = this.#options.clock.now();
    const run = this.#granted;
    this.#granted = null;
    run?.();
  }

  release(how: 'answered' | 'unanswered'): void {
    this.#misses = how === 'answered' ? 0 : this.#misses + 1;
    const isShared = this.#line !== null && this.#line.members.size > 1;
    const restMs = how === 'answered' ? GAP_MS : RESTS_MS;
    this.#line?.release(this, isShared ? restMs : 0);
  }

  hears(): boolean {
    const line = this.#line;
    if (line === null || line.holder === this) return true;
    return line.holder === null && line.members.size === 1;
  }

  othersHoldMs(): number {
    let sumMs = 0;
    for (const other of this.#line?.members ?? []) {
      if (other !== this) sumMs += other.#options.holdsMs + RESTS_MS;
    }
    return sumMs;
  }

  leave(): void {
    const line = this.#line;
    this.#backTimer.clear();
    this.#line = null;
    this.#granted = null;
    this.#misses = 0;
    this.#grantedAtMs = Number.NEGATIVE_INFINITY;
    line?.remove(this);
    if (line?.members.size === 0) this.#lastLeft();
  }
}
