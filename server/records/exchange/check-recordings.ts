import type { BenchState, RecordEntry, RecordEntryOf, RecordingHeader } from '@taptrue/protocol';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import { Recomputation, type RecomputationHooks } from '../journal/recomputation.ts';
import { checkHeader, checkLine, HEADER_BEGINS } from './check-line.ts';
import { OrderCheck } from './check-order.ts';
import type { FileLine } from './lines-of-file.ts';
import {
  cutOff,
  damaged,
  fileEmpty,
  notRecomputed,
  outOfPlace,
  RecordingRefused,
  signatureNotTrue,
} from './recording-faults.ts';
import { type Fingerprint, RecordingHash } from './recording-hash.ts';
import { sayDifference } from './say-difference.ts';

export interface CheckHooks extends RecomputationHooks {
  /** A job's recording begins; its fingerprint over so many lines is wanted as well (null: not). */
  onJob?(header: RecordingHeader): number | null | undefined;
  onEntry?(entry: RecordEntry): void;
}

export interface SignatureFound {
  who: string;
  role: string;
  wallClock: string;
  fingerprint: string;
  lines: number;
  holds: boolean;
}

/** One recording of a file, checked to its end or to where it is refused. */
export interface CheckedRecording {
  header: RecordingHeader | null;
  opened: RecordEntryOf<'opened'> | null;
  /** Where it begins in the file. */
  from: { at: number; number: number };
  fingerprint: Fingerprint;
  /** SHA-256 over as many lines as `onJob` asked for; null: it has fewer, or was not asked. */
  sha256There: string | null;
  signatures: SignatureFound[];
  /** What is recorded and does not come out again. */
  recomputation: Pick<Recomputation, 'same' | 'differences' | 'different'> | null;
  /** Whether this program's version is the one that recorded. */
  isOurVersion: boolean;
  /** How the bench stood at the end. */
  state: BenchState | null;
  refused: RecordingRefused | null;
}

/**
 * Checks every recording of a file: each line against the schema, its order, the signatures, the end line, and
 * that the results come out of the readings again. One that is refused does not hide those behind it. Memory
 * does not grow with the file.
 */
export function* checkRecordings(
  lines: Iterable<FileLine>,
  hooks: CheckHooks = {},
): Generator<CheckedRecording> {
  let current: RecordingCheck | null = null;
  let isAny = false;
  const source = lines[Symbol.iterator]();
  for (;;) {
    const next = nextLine(source);
    if (next === null) break;
    if (next instanceof RecordingRefused) {
      // Behind a line without end nothing can be found.
      current ??= new RecordingCheck(null, hooks);
      isAny = true;
      current.refuse(next);
      break;
    }
    isAny = true;
    if (current === null) {
      current = new RecordingCheck(next, hooks);
    } else if (current.isRefused) {
      if (!beginsRecording(next)) continue;
      yield current.done();
      current = new RecordingCheck(next, hooks);
    } else {
      current.line(next);
    }
    if (current.isComplete) {
      yield current.done();
      current = null;
    }
  }
  if (current) yield current.done();
  if (!isAny) {
    const empty = new RecordingCheck(null, hooks);
    empty.refuse(new RecordingRefused(null, fileEmpty()));
    yield empty.done();
  }
}

function beginsRecording({ bytes }: FileLine): boolean {
  return bytes.subarray(0, HEADER_BEGINS.length).toString('latin1') === HEADER_BEGINS;
}

function nextLine(source: Iterator<FileLine>): FileLine | RecordingRefused | null {
  try {
    const { done, value } = source.next();
    return done ? null : value;
  } catch (error) {
    if (error instanceof RecordingRefused) return error;
    throw error;
  }
}

/** One recording on its way through the checks. */
class RecordingCheck {
  isComplete = false;
  readonly #hooks: CheckHooks;
  readonly #hash = new RecordingHash();
  readonly #order = new OrderCheck();
  readonly #from: { at: number; number: number };
  readonly #signatures: SignatureFound[] = [];
  #header: RecordingHeader | null = null;
  #opened: RecordEntryOf<'opened'> | null = null;
  #recomputation: Recomputation | null = null;
  #signing: { at: Fingerprint; said: RecordEntryOf<'signing'> } | null = null;
  #refused: RecordingRefused | null = null;
  #askedLines: number | null = null;
  #sha256There: string | null = null;
  #lastLine = 0;

  constructor(first: FileLine | null, hooks: CheckHooks) {
    this.#hooks = hooks;
    this.#from = { at: first?.at ?? 0, number: first?.number ?? 1 };
    if (first) this.#guarded(() => this.#begin(first));
  }

  get isRefused(): boolean {
    return this.#refused !== null;
  }

  refuse(refused: RecordingRefused): void {
    this.#refused ??= refused;
  }

  line(line: FileLine): void {
    this.#guarded(() => this.#take(line));
  }

  done(): CheckedRecording {
    if (!this.isComplete && !this.#refused)
      this.#refused = new RecordingRefused(this.#lastLine, cutOff(this.#hash.lines));
    return {
      header: this.#header,
      opened: this.#opened,
      from: this.#from,
      fingerprint: this.#hash.fingerprint,
      sha256There: this.#sha256There,
      signatures: this.#signatures,
      recomputation: this.#recomputation,
      isOurVersion: this.#opened?.version === PROTOCOL_VERSION,
      state: this.#recomputation?.state ?? null,
      refused: this.#refused,
    };
  }

  #guarded(work: () => void): void {
    try {
      work();
    } catch (error) {
      if (!(error instanceof RecordingRefused)) throw error;
      this.refuse(error);
    }
  }

  #begin(line: FileLine): void {
    this.#lastLine = line.number;
    this.#header = checkHeader(line);
    this.#askedLines = this.#hooks.onJob?.(this.#header) ?? null;
    this.#hashed(line);
  }

  #take(line: FileLine): void {
    const checked = checkLine(line);
    this.#lastLine = line.number;
    if (checked.kind === 'end') {
      this.#end(checked.end, line);
      return;
    }
    // The end line may come without a line end; an entry is cut off there.
    if (!line.hasEnd) throw new RecordingRefused(line.number, cutOff(this.#hash.lines));
    this.#entry(checked.entry, line);
  }

  #entry(entry: RecordEntry, line: FileLine): void {
    const misplaced = this.#order.next(entry);
    if (misplaced) throw new RecordingRefused(line.number, misplaced);
    this.#hashed(line);
    if (entry.entry === 'opened') {
      this.#opensItsHeader(entry, line);
      this.#opened = entry;
      this.#recomputation = new Recomputation(entry, this.#hooks);
    } else {
      this.#recomputation?.push(entry, line.number);
    }
    if (entry.entry === 'signing') this.#signing = { at: this.#hash.fingerprint, said: entry };
    if (entry.entry === 'signed') this.#signed(entry);
    this.#hooks.onEntry?.(entry);
  }

  #opensItsHeader({ start, bench, version }: RecordEntryOf<'opened'>, { number }: FileLine): void {
    const header = this.#header!;
    if (header.job === start.key && header.bench === bench && header.program === version) return;
    throw new RecordingRefused(
      number,
      outOfPlace(`job ${start.key} behind a header of job ${header.job}`),
    );
  }

  /** The fingerprint is over `signing`: what `signed` says beside it must be what was said there. */
  #signed(signed: RecordEntryOf<'signed'>): void {
    const { who, role, wallClock, fingerprint, lines } = signed;
    const signing = this.#signing;
    const holds =
      signing !== null &&
      signing.at.sha256 === fingerprint &&
      signing.at.lines === lines &&
      saysTheSame(signing.said, signed);
    this.#signatures.push({ who, role, wallClock, fingerprint, lines, holds });
  }

  #hashed({ bytes }: FileLine): void {
    this.#hash.line(bytes);
    if (this.#hash.lines === this.#askedLines) this.#sha256There = this.#hash.fingerprint.sha256;
  }

  /** All was read: now the file must fit its end line, then the figures its readings, then the signatures. */
  #end(end: { lines: number; sha256: string }, { number }: FileLine): void {
    const { lines, sha256 } = this.#hash.fingerprint;
    this.isComplete = true;
    if (end.lines !== lines)
      throw new RecordingRefused(number, damaged(`${lines} lines where ${end.lines} were written`));
    if (end.sha256 !== sha256)
      throw new RecordingRefused(number, damaged(`SHA-256 ${sha256} where ${end.sha256} is said`));
    if (!this.#opened) throw new RecordingRefused(number, outOfPlace('an end without a job'));
    this.#recomputation?.end();
    const [first] = this.#recomputation?.differences ?? [];
    // Another version may reckon otherwise; both are shown, and the record stays what it is.
    if (first && this.#opened.version === PROTOCOL_VERSION)
      throw new RecordingRefused(first.line ?? number, notRecomputed(sayDifference(first)));
    const broken = this.#signatures.find(({ holds }) => !holds);
    if (broken) throw new RecordingRefused(number, signatureNotTrue(`signed by ${broken.who}`));
  }
}

/** Time and ticks are not in every `signing`; what is there must be the same. */
function saysTheSame(
  signing: RecordEntryOf<'signing'>,
  { who, role, wallClock, cautions }: RecordEntryOf<'signed'>,
): boolean {
  return (
    signing.who === who &&
    signing.role === role &&
    (signing.wallClock ?? wallClock) === wallClock &&
    JSON.stringify(signing.cautions ?? cautions) === JSON.stringify(cautions)
  );
}
