import type { LengthUnit, LineShape, ReadingStatus } from '@taptrue/protocol';
import { makeFrameCutter, makeShapeCutter } from '../formats/cut-frames.ts';
import { decodeAxes } from '../formats/decode-frame.ts';
import { escapeControls } from '../formats/escape-controls.ts';
import type { Cut, FrameCutter } from '../formats/frame-cutter.ts';
import { type EighthBit, hasOddOnes, readThrough } from './eighth-bit.ts';
import { frameWorthBits } from './frame-worth.ts';
import { prints } from './text-heard.ts';

/** Of one listening not more than this is looked at: 1.4 s at 115200 baud, and no device says more in fewer lines. */
export const MOST_BYTES_JUDGED = 16_384;
/** Worth is summed over so many readings; more would only say the same again. */
const READINGS_WEIGHED = 4;
/** Channels of one device that are told apart while it is being found. */
const MOST_CHANNELS = 16;
const LINES_KEPT = 4;
/** As they came, to teach a shape from: as much as is looked at for that. */
const MOST_RAW_BYTES = 4096;

export interface HeardReading {
  /** The frame as it came, control bytes escaped. */
  text: string;
  /** null where the device sent no number (over range, absent axis). */
  value: number | null;
  decimals: number;
  unit: LengthUnit | null;
  channel: string | null;
  status: ReadingStatus;
}

/** What one listening says for one shape. Bytes before the first whole frame count for nothing. */
export interface Evidence {
  shape: LineShape;
  eighth: EighthBit;
  /** Whole frames with a number. */
  readings: number;
  /** Bytes in frames that the shape takes, and in those it does not. */
  takenBytes: number;
  missedBytes: number;
  /** Summed worth of the first readings, and the mean of one. */
  worthBits: number;
  meanWorthBits: number;
  /** Characters with an even and with an odd number of ones came: none were lost for their parity. */
  bothParities: boolean;
  /** The latest reading of each channel, in the order in which the channels were first heard. */
  latest: readonly HeardReading[];
}

class ShapeTally {
  readings = 0;
  takenBytes = 0;
  missedBytes = 0;
  private weighed = 0;
  private worth = 0;
  private evenCame = false;
  private oddCame = false;
  private readonly latest = new Map<string | null, HeardReading>();

  constructor(
    readonly shape: LineShape,
    readonly eighth: EighthBit,
  ) {}

  frame(body: string, text: string): void {
    const decoded = decodeAxes(body, this.shape);
    if (decoded.kind === 'invalid') {
      this.missedBytes += text.length;
      return;
    }
    this.takenBytes += text.length;
    const numbers = decoded.readings.filter(({ value }) => value !== null);
    if (numbers.length === 0) return;
    this.readings += 1;
    for (const byte of Buffer.from(text, 'latin1')) {
      if (hasOddOnes(byte)) this.oddCame = true;
      else this.evenCame = true;
    }
    if (this.weighed < READINGS_WEIGHED) {
      this.weighed += 1;
      this.worth += frameWorthBits(body, this.shape);
    }
    const shown = escapeControls(text);
    for (const { value, decimals, unit, channel, status } of numbers) {
      if (!this.latest.has(channel) && this.latest.size >= MOST_CHANNELS) continue;
      this.latest.set(channel, { text: shown, value, decimals, unit, channel, status });
    }
  }

  evidence(): Evidence {
    const { shape, eighth, readings, takenBytes, missedBytes, worth, weighed } = this;
    const meanWorthBits = weighed === 0 ? 0 : worth / weighed;
    const latest = [...this.latest.values()];
    return {
      shape,
      eighth,
      readings,
      takenBytes,
      missedBytes,
      worthBits: worth,
      meanWorthBits,
      bothParities: this.evenCame && this.oddCame,
      latest,
    };
  }
}

/** Shapes that cut their frames alike, so that the bytes are cut once for all of them. */
interface Group {
  cutter: FrameCutter;
  eighth: EighthBit;
  tallies: ShapeTally[];
  anyFrame: boolean;
  /** Without line ends: nothing excuses bytes that stand in no frame. */
  packed: boolean;
}

/** Share of bytes that print, above which what comes is text; of noise 38 in a hundred do. */
const TEXT_SHARE = 0.8;
const LEAST_BYTES_OF_TEXT = 3;

/**
 * Listens with every shape at once, and with every meaning of the eighth bit. Bounded whatever comes: of
 * one listening the first 16 kB are looked at, the rest is counted.
 */
export class ShapeHearing {
  /** All that came. */
  bytes = 0;
  /** Bytes that a number is written with, of those that were looked at: 18 of 256, so noise has 7 in a hundred. */
  numberBytes = 0;
  /** Bytes that print, and those that end a line, with the eighth bit as data. */
  printingBytes = 0;
  judgedBytes = 0;
  private readonly groups: Group[] = [];
  private readonly printing = new Map<EighthBit, number>();
  private sinceResumed = 0;
  private readonly lines: string[] = [];
  private readonly raw: Uint8Array[] = [];
  private lineCutter = makeFrameCutter({ terminator: 'any newline', longestBytes: 96 });

  constructor(
    shapes: readonly LineShape[],
    private readonly eighths: readonly EighthBit[],
  ) {
    for (const eighth of eighths) {
      for (const alike of cutAlike(shapes)) {
        const packed = isPacked(alike[0]!);
        // Packed bytes use all eight bits; there is no parity among them.
        if (packed && eighth !== 'data') continue;
        this.groups.push({
          cutter: makeShapeCutter(alike[0]!),
          eighth,
          tallies: alike.map((shape) => new ShapeTally(shape, eighth)),
          anyFrame: false,
          packed,
        });
      }
    }
  }

  /** Whole lines as they came, a few of the last. */
  get sampleLines(): readonly string[] {
    return this.lines;
  }

  /** The first bytes as they came, at most 4096 of them. */
  get firstBytes(): Uint8Array {
    return Buffer.concat(this.raw).subarray(0, MOST_RAW_BYTES);
  }

  hear(chunk: Uint8Array): void {
    this.bytes += chunk.length;
    const judged = chunk.subarray(0, Math.max(0, MOST_BYTES_JUDGED - this.judgedBytes));
    if (judged.length === 0) return;
    if (this.judgedBytes < MOST_RAW_BYTES) this.raw.push(Uint8Array.from(judged));
    this.judgedBytes += judged.length;
    this.sinceResumed += judged.length;
    for (const byte of judged) {
      if (OF_NUMBER.has(byte)) this.numberBytes += 1;
      if (prints(byte)) this.printingBytes += 1;
    }
    for (const cut of this.lineCutter.feed(judged)) this.keepLine(cut);
    for (const eighth of this.eighths) {
      const read = readThrough(judged, eighth);
      let printing = this.printing.get(eighth) ?? 0;
      for (const byte of read) if (prints(byte)) printing += 1;
      this.printing.set(eighth, printing);
      for (const group of this.groups) {
        if (group.eighth === eighth) take(group, group.cutter.feed(read));
      }
    }
  }

  /**
   * Nothing came for a while: what was begun in the middle of a line is over. Its bytes may be wrong with the
   * right setting, because nobody knows which bit of a running line is a start bit.
   */
  lineResumes(): void {
    this.printing.clear();
    this.sinceResumed = 0;
  }

  /** Whether what came since the line last resumed is text, with whatever meaning of the eighth bit. */
  get isText(): boolean {
    const most = Math.max(0, ...this.printing.values());
    return this.sinceResumed >= LEAST_BYTES_OF_TEXT && most >= this.sinceResumed * TEXT_SHARE;
  }

  /** Nothing came for long enough that the next byte begins a frame. */
  lineWasIdle(): void {
    for (const { cutter } of this.groups) cutter.lineWasIdle();
    this.lineCutter.lineWasIdle();
  }

  evidence(): Evidence[] {
    return this.groups
      .flatMap(({ tallies }) => tallies.filter(({ readings }) => readings > 0))
      .map((tally) => tally.evidence());
  }

  private keepLine(cut: Cut): void {
    if (cut.kind !== 'frame') return;
    this.lines.push(escapeControls(cut.text));
    if (this.lines.length > LINES_KEPT) this.lines.shift();
  }
}

function take(group: Group, cuts: readonly Cut[]): void {
  for (const cut of cuts) {
    if (cut.kind === 'frame') {
      group.anyFrame = true;
      for (const tally of group.tallies) tally.frame(cut.body, cut.text);
    } else if (group.anyFrame || group.packed) {
      // What came before the first whole frame may be the end of a line that nobody heard begin.
      for (const tally of group.tallies) tally.missedBytes += cut.text.length;
    }
  }
}

const OF_NUMBER = new Set(Buffer.from('0123456789+-., \r\n', 'latin1'));

function isPacked({ packed, framing }: LineShape): boolean {
  return packed !== undefined || framing.terminator === 'no line end';
}

function cutAlike(shapes: readonly LineShape[]): LineShape[][] {
  const groups = new Map<string, LineShape[]>();
  for (const shape of shapes) {
    // Without a line end the fields themselves say where a frame is: such a shape cuts for itself.
    const framing =
      shape.framing.terminator === 'no line end' ? shape.name : JSON.stringify(shape.framing);
    const alike = groups.get(framing);
    if (alike) alike.push(shape);
    else groups.set(framing, [shape]);
  }
  return [...groups.values()];
}
