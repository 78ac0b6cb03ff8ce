import type { Framing } from '@taptrue/protocol';
import type { Cut, FrameCutter } from './frame-cutter.ts';

type WholeLine = Extract<Cut, { kind: 'frame' }>;

/**
 * Joins the lines of a record that is printed over several, title first, into one frame. A line lost in the
 * middle gives no record: the next first line begins anew, and what was held is dropped and counted.
 */
export class RecordCutter implements FrameCutter {
  private held: WholeLine[] = [];

  constructor(
    private readonly record: NonNullable<Framing['record']>,
    private readonly lines: FrameCutter,
  ) {}

  get heldBytes(): number {
    return this.held.reduce((sum, { text }) => sum + text.length, this.lines.heldBytes);
  }

  feed(chunk: Uint8Array): Cut[] {
    return this.lines.feed(chunk).flatMap((cut) => this.take(cut));
  }

  lineWasIdle(): void {
    this.lines.lineWasIdle();
  }

  lineFellSilent(): Cut[] {
    return [...this.dropHeld(), ...this.lines.lineFellSilent()];
  }

  end(): Cut[] {
    return [...this.dropHeld(), ...this.lines.end()];
  }

  private take(cut: Cut): Cut[] {
    // A line that was not whole may have been one of this record.
    if (cut.kind === 'dropped') return [...this.dropHeld(), cut];
    const begins = cut.body.startsWith(this.record.begins);
    if (!begins && this.held.length === 0) {
      return [{ kind: 'dropped', why: 'partial', text: cut.text }];
    }
    const dropped = begins ? this.dropHeld() : [];
    this.held.push(cut);
    if (this.held.length < this.record.lines) return dropped;
    const whole = this.held;
    this.held = [];
    const joined = (part: 'body' | 'text') => whole.map((line) => line[part]).join('\n');
    return [...dropped, { kind: 'frame', body: joined('body'), text: joined('text') }];
  }

  private dropHeld(): Cut[] {
    if (this.held.length === 0) return [];
    const text = this.held.map((line) => line.text).join('\n');
    this.held = [];
    return [{ kind: 'dropped', why: 'partial', text }];
  }
}
