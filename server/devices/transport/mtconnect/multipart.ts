/** `--boundary`, type and length are some 80 bytes. */
const LONGEST_HEAD_BYTES = 4096;

export type PartCut = { kind: 'part'; text: string } | { kind: 'too long' };

/** The boundary that a `multipart/…; boundary=…` names; null where the answer is no stream of parts. Pure. */
export function boundaryOf(contentType: string | null): string | null {
  if (contentType === null || !/^multipart\//i.test(contentType)) return null;
  const match = /boundary=(?:"([^"]{1,70})"|([^\s;]{1,70}))/i.exec(contentType);
  return match?.[1] ?? match?.[2] ?? null;
}

/**
 * Cuts an answer of many documents into them, however its bytes are chopped up. Holds one document at most;
 * a longer one ends the reading. Cost grows with the bytes, not with the number of pieces they come in.
 */
export class PartCutter {
  private readonly mark: Buffer;
  private held = Buffer.alloc(0);
  private heldBytes = 0;
  /** Up to here no mark was found. */
  private searched = 0;
  /** Length of the document that has begun; null between documents; -1: up to the next mark. */
  private bodyBytes: number | null = null;

  constructor(
    boundary: string,
    private readonly longestBytes: number,
  ) {
    this.mark = Buffer.from(`--${boundary}`, 'latin1');
  }

  feed(chunk: Uint8Array): PartCut[] {
    this.append(chunk);
    const cuts: PartCut[] = [];
    for (;;) {
      const cut = this.bodyBytes === null ? this.head() : this.body();
      if (cut === null) return cuts;
      if (cut === 'head') continue;
      cuts.push(cut);
      if (cut.kind === 'too long') return cuts;
    }
  }

  private head(): 'head' | { kind: 'too long' } | null {
    const view = this.view();
    const at = view.indexOf(this.mark);
    const end = at < 0 ? -1 : view.indexOf('\r\n\r\n', at);
    if (end < 0) return this.heldBytes > LONGEST_HEAD_BYTES ? { kind: 'too long' } : null;
    const length = /^content-length:\s*(\d{1,12})\s*$/im.exec(
      view.toString('latin1', at, end),
    )?.[1];
    this.bodyBytes = length === undefined ? -1 : Number(length);
    this.drop(end + 4);
    return this.bodyBytes > this.longestBytes ? { kind: 'too long' } : 'head';
  }

  private body(): PartCut | null {
    let length = this.bodyBytes!;
    if (length < 0) {
      const from = Math.max(0, this.searched - this.mark.length);
      length = this.view().indexOf(this.mark, from);
      this.searched = this.heldBytes;
      if (length < 0) return this.heldBytes > this.longestBytes ? { kind: 'too long' } : null;
    }
    if (this.heldBytes < length) return null;
    const text = this.view().toString('utf8', 0, length);
    this.drop(length);
    this.bodyBytes = null;
    return { kind: 'part', text };
  }

  private view(): Buffer {
    return this.held.subarray(0, this.heldBytes);
  }

  private append(chunk: Uint8Array): void {
    const needed = this.heldBytes + chunk.length;
    if (needed > this.held.length) {
      const larger = Buffer.allocUnsafe(Math.max(2 * this.held.length, needed));
      this.held.copy(larger, 0, 0, this.heldBytes);
      this.held = larger;
    }
    this.held.set(chunk, this.heldBytes);
    this.heldBytes = needed;
  }

  private drop(bytes: number): void {
    this.held.copy(this.held, 0, bytes, this.heldBytes);
    this.heldBytes -= bytes;
    this.searched = 0;
  }
}
