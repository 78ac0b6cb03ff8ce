import type { Fault } from '@taptrue/protocol';
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

/** A glitch on opening, or one character of crosstalk, is not a device that talks. */
const LEAST_BYTES_OF_A_DEVICE = 4;
/** Share of bytes that a number is written with: noise has 0.07, a line of a readout 0.5 and more. */
const DIGITS_COME = 0.6;
const LEAST_BYTES_TO_TELL = 12;

interface Entry {
  tuning: Tuning;
  bytes: number;
  judgedBytes: number;
  numberBytes: number;
  printingBytes: number;
  lines: readonly string[];
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
    this.#echo ||= onlyEcho;
    if (bytes === 0) return;
    this.#entries.push({ tuning, bytes, judgedBytes, numberBytes, printingBytes, lines });
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

  /** Why nothing was found, from all that was heard. */
  verdict(title: string, isSocket: boolean): Fault {
    if (this.#shown.length > 0) return noneFits(title, this.#shown);
    const bytes = this.#entries.reduce((sum, entry) => sum + entry.bytes, 0);
    if (bytes < LEAST_BYTES_OF_A_DEVICE) {
      if (this.#echo) return onlyEcho(title);
      if (isSocket) return socketSilent(title, this.#asked);
      return silence(title, this.#power.seen, { asked: this.#asked, keyed: this.#waitedForKey });
    }
    const best = this.#best();
    if (best) {
      const { settings } = best.tuning;
      const setting = settings === null ? '' : ` at ${settingsWords(settings)}`;
      const whole = best.printingBytes >= best.judgedBytes * 0.98 && best.lines.length > 0;
      if (whole) return shapeNotRecognised(title, setting, best.lines);
      if (best.numberBytes >= best.judgedBytes * DIGITS_COME) {
        return parityNotRight(title, setting, best.lines);
      }
    }
    const first = this.#entries[0]!;
    if (!areUsual(first.tuning.lines)) return fedByLines(title, first.tuning.lines);
    return noSettingFits(title, bytes);
  }

  /** The listening whose bytes print best. */
  #best(): Entry | null {
    const enough = this.#entries.filter(({ judgedBytes }) => judgedBytes >= LEAST_BYTES_TO_TELL);
    const share = (entry: Entry) => (entry.printingBytes + entry.numberBytes) / entry.judgedBytes;
    return enough.sort((one, other) => share(other) - share(one))[0] ?? null;
  }
}

function sameLines(one: ControlLines, other: ControlLines): boolean {
  return one.dtr === other.dtr && one.rts === other.rts;
}
