import { ReadlineParser } from '@serialport/parser-readline';
import type { Framing } from '@taptrue/protocol';
import type { BeginsWhere, Cut, FrameCutter } from './frame-cutter.ts';

const CR = 0x0d;
const LF = 0x0a;

/**
 * The stock parser, made to answer at once: as a stream it may hand a line on in a later turn, and the
 * line would get the time of another chunk. It is never ended, because at its end it emits the
 * unfinished tail as if it were a line (measured: `+0012.3` after an unplug).
 */
class PromptLineParser extends ReadlineParser {
  private lines: Buffer[] = [];

  override push(line: unknown): boolean {
    if (Buffer.isBuffer(line)) this.lines.push(line);
    return true;
  }

  cut(bytes: Buffer): Buffer[] {
    this._transform(bytes, 'latin1', () => undefined);
    const lines = this.lines;
    this.lines = [];
    return lines;
  }
}

/**
 * Frames that end at a terminator, with or without a start character. Guards the stock parser where it was
 * measured to fail: the first piece after opening (14 of 20 opens gave a wrong number without this), the
 * tail at the end, and a line without end (1 MB held, 3.5 s of computing).
 *
 * Without a start character nothing proves that the first piece is whole, so it is dropped up to the
 * first terminator unless the line was seen idle. With one, the start character proves it.
 */
export class LineCutter implements FrameCutter {
  private readonly parser: PromptLineParser;
  private readonly anyNewline: boolean;
  /** Why the next line is not whole, or null where it is. Used without a start character. */
  private notWhole: 'partial' | 'too long' | null;

  constructor(
    private readonly framing: Framing,
    begins: BeginsWhere,
  ) {
    this.anyNewline = framing.terminator === 'any newline';
    this.parser = new PromptLineParser({
      delimiter: this.anyNewline ? '\n' : framing.terminator,
      encoding: 'latin1',
    });
    this.notWhole = begins === 'anywhere' && framing.start === undefined ? 'partial' : null;
  }

  get heldBytes(): number {
    return this.parser.buffer.length;
  }

  feed(chunk: Uint8Array): Cut[] {
    const cuts: Cut[] = [];
    const step = this.framing.longestBytes;
    for (let from = 0; from < chunk.length; from += step) {
      const slice = Buffer.from(chunk.subarray(from, from + step));
      if (this.anyNewline) everyCrToLf(slice);
      for (const line of this.parser.cut(slice)) this.takeLine(line.toString('latin1'), cuts);
      if (this.heldBytes > step) this.giveUpOnLine(cuts);
    }
    return cuts;
  }

  lineWasIdle(): void {
    if (this.heldBytes === 0) this.notWhole = null;
  }

  lineFellSilent(): Cut[] {
    if (this.heldBytes === 0) return [];
    const cuts = this.end();
    if (this.framing.start === undefined) this.notWhole = 'partial';
    return cuts;
  }

  end(): Cut[] {
    const text = this.parser.buffer.toString('latin1');
    this.parser.buffer = Buffer.alloc(0);
    return text === '' || this.notWhole === 'too long'
      ? []
      : [{ kind: 'dropped', why: 'partial', text }];
  }

  private takeLine(line: string, cuts: Cut[]): void {
    const why = this.notWhole;
    this.notWhole = null;
    const startsAt = this.framing.start === undefined ? 0 : line.lastIndexOf(this.framing.start);
    if (startsAt < 0 || (why !== null && this.framing.start === undefined)) {
      // The rest of a line that was given up was counted when it was given up.
      if (why !== 'too long' && !onlyNewlines(line)) {
        cuts.push({ kind: 'dropped', why: 'partial', text: line });
      }
      return;
    }
    const before = line.slice(0, startsAt);
    if (why !== 'too long' && !onlyNewlines(before)) {
      cuts.push({ kind: 'dropped', why: 'partial', text: before });
    }
    const text = line.slice(startsAt);
    const body = this.framing.start === undefined ? text : text.slice(1);
    if (text.length > this.framing.longestBytes) {
      cuts.push({
        kind: 'dropped',
        why: 'too long',
        text: text.slice(0, this.framing.longestBytes),
      });
    } else if (body !== '' && !this.framing.skip?.includes(body)) {
      cuts.push({ kind: 'frame', body, text });
    }
  }

  /** Longer than any frame and no terminator: drop it, and whatever comes up to the next terminator. */
  private giveUpOnLine(cuts: Cut[]): void {
    const held = this.parser.buffer;
    if (this.notWhole !== 'too long') {
      const text = held.toString('latin1', 0, this.framing.longestBytes);
      cuts.push({ kind: 'dropped', why: 'too long', text });
    }
    this.notWhole = 'too long';
    // A terminator of several characters may stand half in what is dropped.
    const keep = this.parser.delimiter.length - 1;
    this.parser.buffer = held.subarray(held.length - keep);
  }
}

/** CR, LF and CR LF then all end a line at LF; the empty line inside CR LF is not a frame. */
function everyCrToLf(bytes: Buffer): void {
  for (let index = 0; index < bytes.length; index += 1) {
    if (bytes[index] === CR) bytes[index] = LF;
  }
}

function onlyNewlines(text: string): boolean {
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    if (code !== CR && code !== LF) return false;
  }
  return true;
}
