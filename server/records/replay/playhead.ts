/** The speed that is kept is judged over this long: shorter, one piece read from the disk would show. */
const JUDGED_OVER_MS = 1000;
/** Kept at least this part of the wanted speed: not worth a word. */
const AS_GOOD_AS = 0.95;

/** Where a replay stands in the recording's time, and how fast it goes. Time of the listener comes with every call. */
export class Playhead {
  readonly #beginsMs: number;
  readonly #endsMs: number;
  #atMs: number;
  #speed = 1;
  #isPlaying = false;
  /** A moment of the listener and the recorded time it goes with. */
  #anchor = { nowMs: 0, atMs: 0 };
  #judged = { nowMs: 0, atMs: 0 };
  #reached: number | null = null;

  constructor(beginsMs: number, endsMs: number) {
    this.#beginsMs = beginsMs;
    this.#endsMs = endsMs;
    this.#atMs = beginsMs;
  }

  get atMs(): number {
    return this.#atMs;
  }

  get speed(): number {
    return this.#speed;
  }

  get isPlaying(): boolean {
    return this.#isPlaying;
  }

  /** The speed that was kept where the wanted one was not; null: the wanted one. */
  get reachedSpeed(): number | null {
    return this.#isPlaying ? this.#reached : null;
  }

  play(nowMs: number): void {
    if (this.#isPlaying) return;
    this.#isPlaying = true;
    this.#holdOn(nowMs);
  }

  pause(): void {
    this.#isPlaying = false;
  }

  setSpeed(speed: number, nowMs: number): void {
    this.#speed = speed;
    this.#holdOn(nowMs);
  }

  putAt(atMs: number, nowMs: number): void {
    this.#atMs = Math.min(this.#endsMs, Math.max(this.#beginsMs, atMs));
    this.#holdOn(nowMs);
  }

  /** Up to where to play now; null: it stands. */
  dueAt(nowMs: number): number | null {
    if (!this.#isPlaying) return null;
    const dueMs = this.#anchor.atMs + (nowMs - this.#anchor.nowMs) * this.#speed;
    return Math.min(this.#endsMs, Math.max(this.#atMs, dueMs));
  }

  reached(atMs: number, nowMs: number): void {
    this.#atMs = atMs;
    this.#judge(nowMs);
    if (atMs >= this.#endsMs) this.#isPlaying = false;
  }

  /** There was no time to tell more: it goes on from here, and does not try to catch up in a leap. */
  fellBehind(atMs: number, nowMs: number): void {
    this.#atMs = Math.min(this.#endsMs, Math.max(this.#atMs, atMs));
    this.#anchor = { nowMs, atMs: this.#atMs };
    this.#judge(nowMs);
  }

  #holdOn(nowMs: number): void {
    this.#anchor = { nowMs, atMs: this.#atMs };
    this.#judged = this.#anchor;
    this.#reached = null;
  }

  #judge(nowMs: number): void {
    const tookMs = nowMs - this.#judged.nowMs;
    if (tookMs < JUDGED_OVER_MS) return;
    const kept = (this.#atMs - this.#judged.atMs) / tookMs;
    this.#reached = kept < AS_GOOD_AS * this.#speed ? kept : null;
    this.#judged = { nowMs, atMs: this.#atMs };
  }
}
