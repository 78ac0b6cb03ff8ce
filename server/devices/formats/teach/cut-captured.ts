import type { Framing, TeachQuestion } from '@taptrue/protocol';
import { guessFrameLength } from './guess-frame-length.ts';

/** Frames that are looked at; more teach nothing new. */
export const MOST_FRAMES = 12;
/** Line ends that are met without CR or LF: ETX, EOT, semicolon, NUL. */
const OTHER_ENDS = ['\x03', '\x04', ';', '\0'];
const LONGEST_FRAME = 256;

export interface Captured {
  framing: Framing;
  /** What stands between start and line end, one a frame. */
  bodies: string[];
  /** The same with start and line end, as a sample has it. */
  frames: string[];
}

export type CutCaptured = { ok: true; captured: Captured } | { ok: false; why: string };

type Question = Pick<
  TeachQuestion,
  'captured' | 'fromPort' | 'form' | 'frameBytes' | 'recordLines'
>;

/** Cuts captured bytes into frames by what they hold, and says how a reader must cut them. */
export function cutCaptured(question: Question): CutCaptured {
  return question.form === 'bytes' ? cutBytes(question) : cutLines(question);
}

function cutLines({ captured, fromPort, recordLines }: Question): CutCaptured {
  const end = lineEnd(captured);
  if (end === null) {
    return {
      ok: false,
      why: 'No line end was found. Capture at least three lines, or choose "bytes" where the device sends no line ends.',
    };
  }
  const pieces = end === 'any newline' ? captured.split(/\r\n|\r|\n/) : captured.split(end);
  // The last piece has no line end; typed or pasted it is a line all the same.
  if (fromPort) {
    pieces.pop();
    pieces.shift();
  }
  const lines = pieces.filter((line) => line !== '');
  const written = end === 'any newline' ? '\r\n' : end;
  return recordLines === 1
    ? framesOf(lines, end, written)
    : recordsOf(lines, { end, written, count: recordLines });
}

function framesOf(lines: readonly string[], end: string, written: string): CutCaptured {
  const start = commonStart(lines);
  const bodies = distinct(lines.map((line) => line.slice(start.length)));
  return checked({
    framing: {
      terminator: end,
      ...(start === '' ? {} : { start }),
      longestBytes: longest(bodies.map((body) => start + body)),
    },
    bodies,
    frames: bodies.map((body) => start + body + written),
  });
}

function recordsOf(
  lines: readonly string[],
  { end, written, count }: { end: string; written: string; count: number },
): CutCaptured {
  const records: string[][] = [];
  for (let at = 0; at + count <= lines.length; at += count)
    records.push(lines.slice(at, at + count));
  const begins = commonBeginning(records.map(([first]) => first ?? ''));
  const others = records.flatMap((record) => record.slice(1));
  if (begins === '' || others.some((line) => line.startsWith(begins))) {
    return {
      ok: false,
      why: `The first of every ${count} lines must begin alike, and no other line may. Begin the captured text with a first line.`,
    };
  }
  const bodies = distinct(records.map((record) => record.join('\n')));
  return checked({
    framing: { terminator: end, record: { lines: count, begins }, longestBytes: longest(lines) },
    bodies,
    frames: bodies.map((body) => body.replaceAll('\n', written) + written),
  });
}

function cutBytes({ captured, fromPort, frameBytes }: Question): CutCaptured {
  const guess = guessFrameLength(captured, { bytes: frameBytes, whole: !fromPort });
  if (guess === null) {
    return {
      ok: false,
      why: 'No frame length fits: no byte comes back at an even distance. Capture more, or give the bytes of one frame.',
    };
  }
  const { length, from } = guess;
  const frames: string[] = [];
  for (let at = from; at + length <= captured.length; at += length) {
    frames.push(captured.slice(at, at + length));
  }
  const start = frames[0]?.charAt(0) ?? '';
  const whole = frames.filter((frame) => frame.startsWith(start));
  const all = distinct(whole);
  return checked({
    framing: {
      terminator: 'no line end',
      start,
      fixedBytes: length - 1,
      longestBytes: Math.max(4, length),
    },
    bodies: all.map((frame) => frame.slice(1)),
    frames: all,
  });
}

function checked(captured: Captured): CutCaptured {
  const { frames } = captured;
  if (frames.length < 3) {
    return {
      ok: false,
      why: `Three different lines are needed, there ${frames.length === 1 ? 'is one' : `are ${frames.length}`}. Move the stylus between them.`,
    };
  }
  if (frames.some((frame) => frame.length > LONGEST_FRAME)) {
    return { ok: false, why: `A line is longer than ${LONGEST_FRAME} characters.` };
  }
  return { ok: true, captured };
}

function lineEnd(captured: string): string | null {
  if (captured.includes('\r') || captured.includes('\n')) return 'any newline';
  return OTHER_ENDS.find((end) => captured.split(end).length > 2) ?? null;
}

/** The one control character that every line begins with, or nothing. */
function commonStart(lines: readonly string[]): string {
  const first = lines[0]?.charAt(0) ?? '';
  const isControl = first !== '' && first < ' ' && first !== '\t';
  return isControl && lines.every((line) => line.startsWith(first)) ? first : '';
}

/** Letters and spaces that all of these begin with, up to the first that could be part of a value. */
function commonBeginning(lines: readonly string[]): string {
  const [first = ''] = lines;
  let length = 0;
  while (
    length < Math.min(first.length, 32) &&
    !/[0-9+-]/.test(first.charAt(length)) &&
    lines.every((line) => line.charAt(length) === first.charAt(length))
  ) {
    length += 1;
  }
  return first.slice(0, length);
}

function distinct(texts: readonly string[]): string[] {
  return [...new Set(texts)].slice(0, MOST_FRAMES);
}

/** Room for numbers that are longer than those that were seen. */
function longest(texts: readonly string[]): number {
  const most = Math.max(4, ...texts.map((text) => text.length));
  return Math.min(LONGEST_FRAME, most + 16);
}
