import { isUsable, type RecordEntry } from '@taptrue/protocol';
import type { RecordBatch } from '../store/record-batch.ts';

/**
 * Entries of one piece: as with a record that is measured, a long sweep is drawn from the lowest and highest of
 * its pieces; 200 of them at 1,000 readings a second are 0.2 s.
 */
export const MOST_IN_PIECE = 200;
/** Pieces of one commit: some 3 MB of text, tens of milliseconds in which the bench's own record waits. */
export const MOST_PIECES_AT_ONCE = 50;

/** Lines of a record put together as the pieces that the store keeps. */
export class PieceMaker {
  readonly #job: string;
  #seq: number;
  #lines: string[] = [];
  #piece: RecordBatch;

  /** `lastSeq`: pieces of the job that are kept already. */
  constructor(job: string, lastSeq: number) {
    this.#job = job;
    this.#seq = lastSeq;
    this.#piece = this.#fresh();
  }

  /** One line without its line end; gives a piece where one is full. */
  add(line: string, entry: RecordEntry): RecordBatch | null {
    const piece = this.#piece;
    if (piece.entries === 0) piece.firstAtMs = entry.atMs;
    piece.lastAtMs = entry.atMs;
    piece.entries += 1;
    this.#lines.push(line);
    if (entry.entry === 'reading') {
      piece.readings += 1;
      if (entry.link === 'indicator' && isUsable(entry.reading)) {
        const { valueMm } = entry.reading;
        piece.lowMm = Math.min(piece.lowMm ?? valueMm, valueMm);
        piece.highMm = Math.max(piece.highMm ?? valueMm, valueMm);
      }
    }
    return piece.entries >= MOST_IN_PIECE ? this.rest() : null;
  }

  /** What is held; null: nothing. */
  rest(): RecordBatch | null {
    if (this.#lines.length === 0) return null;
    const piece = { ...this.#piece, lines: `${this.#lines.join('\n')}\n` };
    this.#lines = [];
    this.#seq += 1;
    this.#piece = this.#fresh();
    return piece;
  }

  #fresh(): RecordBatch {
    return {
      job: this.#job,
      seq: this.#seq + 1,
      lines: '',
      entries: 0,
      readings: 0,
      firstAtMs: 0,
      lastAtMs: 0,
      lowMm: null,
      highMm: null,
    };
  }
}
