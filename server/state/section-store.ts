import type { BenchState, SectionName } from '@taptrue/protocol';
import { SECTION_NAMES } from '@taptrue/protocol';

/**
 * The one state of the bench, in sections. Every section has a revision that rises when it is set; its text
 * is made once per revision, however many screens there are. `sequence` rises with every change of any.
 */
export class SectionStore {
  readonly #values: BenchState;
  readonly #revisions = new Map<SectionName, number>();
  readonly #texts = new Map<SectionName, { revision: number; text: string }>();
  readonly #listeners = new Set<() => void>();
  #sequence = 0;

  constructor(first: BenchState) {
    this.#values = { ...first };
    for (const name of SECTION_NAMES) this.#revisions.set(name, 0);
  }

  get sequence(): number {
    return this.#sequence;
  }

  get state(): Readonly<BenchState> {
    return this.#values;
  }

  get<N extends SectionName>(name: N): BenchState[N] {
    return this.#values[name];
  }

  set<N extends SectionName>(name: N, value: BenchState[N]): void {
    this.#values[name] = value;
    this.#sequence += 1;
    this.#revisions.set(name, this.#sequence);
    for (const listener of this.#listeners) listener();
  }

  /** Names of the sections set after `sequence`. */
  changedSince(sequence: number): SectionName[] {
    return SECTION_NAMES.filter((name) => this.#revisions.get(name)! > sequence);
  }

  /** `"name":value` as JSON, made once per revision. */
  text(name: SectionName): string {
    const revision = this.#revisions.get(name)!;
    const made = this.#texts.get(name);
    if (made && made.revision === revision) return made.text;
    const text = `${JSON.stringify(name)}:${JSON.stringify(this.#values[name])}`;
    this.#texts.set(name, { revision, text });
    return text;
  }

  /** Calls `listener` after every change; gives the way to stop that. */
  onChange(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }
}
