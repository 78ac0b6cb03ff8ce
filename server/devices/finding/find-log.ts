import type { Fault } from '@taptrue/protocol';
import { settingsOf } from './eighth-bit.ts';
import {
  fedByLines,
  noneFits,
  noSettingFits,
  onlyEcho,
  parityNotRight,
  shapeNotRecognised,
  socketSilent,
} from './find-faults.ts';
import { areUsual, settingsWords } from './find-words.ts';
import { PowerEvidence } from './power-evidence.ts';
import type { ControlLines, Tuning } from './settings-tried.ts';
import { silence } from './silence-faults.ts';
import type { Heard } from './steps.ts';
import { type TextHeard, textHeard } from './text-heard.ts';

/** A glitch on opening, or one character of crosstalk, is not a device that talks. */
const LEAST_BYTES_OF_A_DEVICE = 4;
/** Share of bytes that a number is written with: noise has 0.07, a line of a readout 0.5 and more. */
const DIGITS_COME = 0.6;
const LEAST_BYTES_TO_TELL = 12;
/** Two readings of a shape are enough to be recognised. */
const LINES_OF_A_STREAM = 3;

interface Entry {
  tuning: Tuning;
  bytes: number;
  judgedBytes: number;
  numberBytes: number;
  printingBytes: number;
  lines: readonly string[];
  firstBytes: Uint8Array;
}

/** What a shape can be taught from: bytes that no known shape reads, and how they were heard. */
export interface Unread {
  form: 'lines' | 'bytes';
  /** As a port set like the device hears them. */
  bytes: Uint8Array;
  tuning: Tuning;
}

export interface Verdict {
  fault: Fault;
  /** Null: teaching would not help. */
  unread: Unread | null;
}

/** What was heard with each setting, for the order in which the rest is tried and for the words at the end. */
export class FindLog {
  readonly #entries: Entry[] = [];
  readonly #power = new PowerEvidence();
  #echo = false;
  #asked = false;
  #waitedForKey = false;
  readonly #shown: string[] = [];

  heard({ hearing, onlyEcho, lead }: Heard, tuning: Tuning): void {
    if (lead !== null) this.#power.saw(tuning.lines, lead);
    const { bytes, judgedBytes, numberBytes, printingBytes, sampleLines: lines } = hearing;
    const { firstBytes } = hearing;
    this.#echo ||= onlyEcho;
    if (bytes === 0) return;
    const counted = { bytes, judgedBytes, numberBytes, printingBytes };
    this.#entries.push({ tuning, ...counted, lines, firstBytes });
  }

  /** A question's reading, to which the user said no. */
  refusedReading(text: string): void {
    this.#shown.push(text);
  }

  asked(): void {
    this.#asked = true;
  }

  waitedForKey(): void {
    this.#waitedForKey = true;
  }

  get wasAsked(): boolean {
    return this.#asked;
  }

  /** Whether a device talks with these control lines, at whatever speed. */
  talksWith(lines: ControlLines): boolean {
    const bytes = this.#entries
      .filter(({ tuning }) => sameLines(tuning.lines, lines))
      .reduce((sum, entry) => sum + entry.bytes, 0);
    return bytes >= LEAST_BYTES_OF_A_DEVICE;
  }

  /** Speeds at which bytes came with these lines; those whose bytes are most like numbers first. */
  baudRatesHeard(lines: ControlLines): number[] {
    const shares = new Map<number, number>();
    for (const { tuning, numberBytes, judgedBytes } of this.#entries) {
      if (tuning.settings === null || !sameLines(tuning.lines, lines)) continue;
      const share = judgedBytes === 0 ? 0 : numberBytes / judgedBytes;
      const { baudRate } = tuning.settings;
      shares.set(baudRate, Math.max(share, shares.get(baudRate) ?? 0));
    }
    return [...shares].sort((one, other) => other[1] - one[1]).map(([baudRate]) => baudRate);
  }

  /** With what whole lines came that no shape reads, none of their characters lost; null: none such came. */
  get plainTextHeardWith(): Tuning | null {
    const text = this.#shown.length === 0 ? this.#text() : null;
    return text?.heard.nothingLost ? text.heardWith : null;
  }

  /** So many of them that a shape that reads them had been recognised: whatever else is tried says the same. */
  get speaksPlainly(): boolean {
    if (this.plainTextHeardWith === null) return false;
    return (this.#text()?.heard.wholeLines ?? 0) >= LINES_OF_A_STREAM;
  }

  /** Why nothing was found, from all that was heard, and what could be taught. */
  verdict(title: string, isSocket: boolean): Verdict {
    const text = this.#text();
    if (this.#shown.length > 0) {
      return {
        fault: noneFits(title, this.#shown),
        unread: text ? unreadOf(text) : this.#fromSocket(),
      };
    }
    const bytes = this.#entries.reduce((sum, entry) => sum + entry.bytes, 0);
    if (bytes < LEAST_BYTES_OF_A_DEVICE) return noTeaching(this.#silence(title, isSocket));
    if (text) {
      const unread = unreadOf(text);
      const fault = shapeNotRecognised(title, atWords(unread.tuning), text.heard.lines);
      return { fault, unread };
    }
    const best = this.#best();
    if (best && best.numberBytes >= best.judgedBytes * DIGITS_COME) {
      return noTeaching(parityNotRight(title, atWords(best.tuning), best.lines));
    }
    const first = this.#entries[0]!;
    if (!areUsual(first.tuning.lines)) return noTeaching(fedByLines(title, first.tuning.lines));
    return { fault: noSettingFits(title, bytes), unread: this.#fromSocket() };
  }

  #silence(title: string, isSocket: boolean): Fault {
    if (this.#echo) return onlyEcho(title);
    if (isSocket) return socketSilent(title, this.#asked);
    return silence(title, this.#power.seen, { asked: this.#asked, keyed: this.#waitedForKey });
  }

  /** The whole lines of text of which least was lost. */
  #text(): PlainText | null {
    let best: PlainText | null = null;
    for (const { tuning: heardWith, judgedBytes, firstBytes } of this.#entries) {
      if (judgedBytes < LEAST_BYTES_TO_TELL) continue;
      const heard = textHeard(firstBytes);
      if (heard && (best === null || tellsMore(heard, best.heard))) best = { heard, heardWith };
    }
    return best;
  }

  /** Where there is no speed to be wrong, what comes is what the device sends. */
  #fromSocket(): Unread | null {
    const heard = this.#entries.filter(({ tuning }) => tuning.settings === null);
    const most = heard.sort((one, other) => other.bytes - one.bytes)[0];
    if (most === undefined) return null;
    return { form: 'bytes', bytes: most.firstBytes, tuning: most.tuning };
  }

  /** The listening whose bytes print best. */
  #best(): Entry | null {
    const enough = this.#entries.filter(({ judgedBytes }) => judgedBytes >= LEAST_BYTES_TO_TELL);
    const share = (entry: Entry) => (entry.printingBytes + entry.numberBytes) / entry.judgedBytes;
    return enough.sort((one, other) => share(other) - share(one))[0] ?? null;
  }
}

interface PlainText {
  heard: TextHeard;
  heardWith: Tuning;
}

function tellsMore(one: TextHeard, other: TextHeard): boolean {
  if (one.nothingLost !== other.nothingLost) return one.nothingLost;
  return one.nothingLost
    ? one.wholeLines > other.wholeLines
    : one.meanLineLength > other.meanLineLength;
}

/** With the settings of the device itself. */
function unreadOf({ heard, heardWith }: PlainText): Unread {
  const { settings } = heardWith;
  const own = settings === null ? null : settingsOf(settings, heard.eighth);
  return { form: 'lines', bytes: heard.bytes, tuning: { ...heardWith, settings: own } };
}

function noTeaching(fault: Fault): Verdict {
  return { fault, unread: null };
}

function atWords({ settings }: Tuning): string {
  return settings === null ? '' : ` at ${settingsWords(settings)}`;
}

function sameLines(one: ControlLines, other: ControlLines): boolean {
  return one.dtr === other.dtr && one.rts === other.rts;
}
