import type { RecordEntry } from '@taptrue/protocol';

/** A piece of a record that can be asked for. */
export interface PieceHead {
  seq: number;
  firstAtMs: number;
  lastAtMs: number;
}

/** Where the pieces of one job's record come from. */
export interface RecordPieces {
  readonly heads: readonly PieceHead[];
  /** Lines of JSON of one piece. @throws where its bytes are damaged. */
  lines(seq: number): string;
}

/** Lines of a record that could not be read. */
export interface Damage {
  /** Number of the piece, counted from 1 in the job. */
  piece: number;
  firstAtMs: number;
  why: string;
}

/**
 * Walks a record entry by entry. One piece is held at a time. What is damaged is told and passed over: the rest
 * of the piece from there on, never more.
 */
export class RecordCursor {
  readonly #pieces: RecordPieces;
  readonly #onDamage: (damage: Damage) => void;
  #piece = 0;
  #lines: string[] = [];
  #line = 0;
  #next: RecordEntry | null = null;

  constructor(pieces: RecordPieces, onDamage: (damage: Damage) => void) {
    this.#pieces = pieces;
    this.#onDamage = onDamage;
  }

  /** The next entry, left where it is; null at the end. */
  peek(): RecordEntry | null {
    while (this.#next === null) {
      if (this.#line >= this.#lines.length && !this.#open()) return null;
      const line = this.#lines[this.#line] ?? '';
      this.#line += 1;
      if (line === '') continue;
      try {
        this.#next = JSON.parse(line) as RecordEntry;
      } catch {
        this.#lines = [];
        this.#damaged('a line of it is not JSON');
      }
    }
    return this.#next;
  }

  /** Goes past the entry that `peek` gave. */
  pass(): void {
    this.#next = null;
  }

  #open(): boolean {
    const head = this.#pieces.heads[this.#piece];
    if (!head) return false;
    this.#piece += 1;
    this.#line = 0;
    this.#lines = [];
    try {
      this.#lines = this.#pieces.lines(head.seq).split('\n');
    } catch (error) {
      this.#damaged(error instanceof Error ? error.message : String(error));
    }
    return true;
  }

  #damaged(why: string): void {
    const head = this.#pieces.heads[this.#piece - 1]!;
    this.#onDamage({ piece: head.seq, firstAtMs: head.firstAtMs, why });
  }
}
