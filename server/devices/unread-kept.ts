import type { LinkName, RecordEntryOf } from '@taptrue/protocol';

/**
 * Enough to see what a device sends; a device that is set wrongly sends a thousand such lines a second, and
 * they would fill the record with one and the same mistake.
 */
const MOST_A_SECOND = 10;
const SECOND_MS = 1000;

/** What came from one device and gave no reading, on its way to the record: at most ten a second, the rest counted. */
export class UnreadKept {
  #secondBeganMs = Number.NEGATIVE_INFINITY;
  #inSecond = 0;
  #leftOut = 0;

  constructor(
    private readonly link: LinkName,
    private readonly keep: (entry: RecordEntryOf<'unread'>) => void,
  ) {}

  take(text: string, atMs: number): void {
    if (atMs - this.#secondBeganMs >= SECOND_MS) {
      this.#secondBeganMs = atMs;
      this.#inSecond = 0;
    }
    if (this.#inSecond >= MOST_A_SECOND) {
      this.#leftOut += 1;
      return;
    }
    this.#inSecond += 1;
    this.keep({ entry: 'unread', atMs, link: this.link, text, leftOut: this.#leftOut });
    this.#leftOut = 0;
  }
}
