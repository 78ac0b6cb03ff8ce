import type { Fault, LineShape } from '@taptrue/protocol';
import { makeShapeCutter } from '../formats/cut-frames.ts';
import { decodeAxes } from '../formats/decode-frame.ts';
import { escapeControls } from '../formats/escape-controls.ts';
import type { Cut, FrameCutter } from '../formats/frame-cutter.ts';
import type { ReadingIntake } from './take-readings.ts';

/** What the reader of one line needs besides its bytes. */
export interface LineReaderOptions {
  shape: LineShape;
  intake: ReadingIntake;
  /** A whole frame came, understood or not: a request is answered. */
  onFrame(): void;
  notUnderstood(text: string): Fault;
  tooLong(longestBytes: number, text: string): Fault;
}

/** Bytes of one line to whole frames to the intake: cut, decoded, counted. Has no clock of its own. */
export class LineReader {
  private cutter: FrameCutter;

  constructor(private readonly options: LineReaderOptions) {
    this.cutter = makeShapeCutter(options.shape);
  }

  /** The line was opened: nobody knows where in a frame its first byte stands. */
  begin(): void {
    this.cutter = makeShapeCutter(this.options.shape);
    this.options.intake.begin();
  }

  bytes(chunk: Uint8Array, atMs: number): void {
    this.options.intake.heard(chunk.length, atMs);
    this.takeCuts(this.cutter.feed(chunk), atMs);
  }

  lineWasIdle(): void {
    this.cutter.lineWasIdle();
  }

  /** Gives up on a frame that was begun and never ended. */
  lineFellSilent(): void {
    const { intake, notUnderstood } = this.options;
    const cuts = this.cutter.lineFellSilent();
    const [first] = cuts;
    if (first === undefined) return;
    const atMs = intake.lastBytesAtMs ?? 0;
    this.takeCuts(cuts, atMs);
    const text = intake.show(escapeControls(first.text));
    intake.miss(() => notUnderstood(text), atMs);
  }

  /** The line is closed; its tail is not a reading. */
  end(): void {
    this.takeCuts(this.cutter.end(), this.options.intake.lastBytesAtMs ?? 0);
  }

  private takeCuts(cuts: readonly Cut[], atMs: number): void {
    for (const cut of cuts) {
      if (cut.kind === 'frame') this.frame(cut.body, cut.text, atMs);
      else if (cut.why === 'partial') this.options.intake.counters.partialFramesDropped += 1;
      else this.tooLong(cut.text, atMs);
    }
  }

  private tooLong(text: string, atMs: number): void {
    const { intake, shape, tooLong } = this.options;
    intake.counters.framesTooLong += 1;
    const shown = intake.show(escapeControls(text));
    intake.miss(() => tooLong(shape.framing.longestBytes, shown), atMs);
  }

  private frame(body: string, text: string, atMs: number): void {
    const { intake, shape, onFrame, notUnderstood } = this.options;
    const shown = intake.show(escapeControls(text));
    onFrame();
    const decoded = decodeAxes(body, shape);
    if (decoded.kind === 'invalid') {
      intake.counters.framesNotUnderstood += 1;
      intake.miss(() => notUnderstood(shown), atMs);
      return;
    }
    for (const reading of decoded.readings) intake.take(reading, atMs);
  }
}
