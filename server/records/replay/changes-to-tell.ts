import {
  type BenchState,
  type ReplaySection,
  SECTION_NAMES,
  type SectionName,
} from '@taptrue/protocol';
import type { SectionStore } from '../../state/section-store.ts';

/** All but the needle are told this often at most: a page lays itself out anew for each, and ten a second is what a live bench does. */
const TELL_EVERY_MS = 100;

/**
 * What of a told bench the screens do not have yet. A bench that was begun anew is shown whole, once it is where
 * it was sent; until then the screens keep what they have.
 */
export class ChangesToTell {
  #store: SectionStore | null = null;
  #toldSequence = -1;
  #toldAtMs = Number.NEGATIVE_INFINITY;
  #toldReplay = '';
  readonly #waiting = new Set<SectionName>();

  show(store: SectionStore): void {
    if (store === this.#store) return;
    this.#store = store;
    this.#toldSequence = -1;
    // Shown at once: someone waits for it.
    this.#toldAtMs = Number.NEGATIVE_INFINITY;
  }

  /** True while something waits for its turn. */
  hasUntold(replay: () => ReplaySection): boolean {
    return this.#waiting.size > 0 || JSON.stringify(replay()) !== this.#toldReplay;
  }

  take(nowMs: number, replay: () => ReplaySection): Partial<BenchState> {
    const store = this.#store;
    const isWhole = store !== null && this.#toldSequence < 0;
    if (store) {
      const changed = isWhole ? SECTION_NAMES : store.changedSince(this.#toldSequence);
      for (const name of changed) if (name !== 'replay') this.#waiting.add(name);
      this.#toldSequence = store.sequence;
    }
    const told: Record<string, unknown> = {};
    const all = nowMs - this.#toldAtMs >= TELL_EVERY_MS;
    for (const name of this.#waiting) {
      if (!store || (!all && name !== 'live')) continue;
      told[name] = store.get(name);
      this.#waiting.delete(name);
    }
    if (all) this.#tellReplay(told, replay());
    if (all && Object.keys(told).length > 0) this.#toldAtMs = nowMs;
    return told as Partial<BenchState>;
  }

  #tellReplay(told: Record<string, unknown>, section: ReplaySection): void {
    const text = JSON.stringify(section);
    if (text === this.#toldReplay) return;
    this.#toldReplay = text;
    told.replay = section;
  }
}
