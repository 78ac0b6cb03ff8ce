import { closeSync, openSync, readSync } from 'node:fs';
import { fileNotRead, lineTooLong, RecordingRefused } from './recording-faults.ts';

/** Read at once: large enough that the disk is not asked often, small beside what a line may be. */
const PIECE_BYTES = 256 * 1024;
/** The longest line there is, a sweep's end with 256 points or a plan with its stacks, is some 100 kB. */
export const LONGEST_LINE_BYTES = 2 * 1024 * 1024;

export interface FileLine {
  bytes: Buffer;
  /** Counted from 1 over the whole file. */
  number: number;
  /** Where it begins, in bytes from the beginning of the file. */
  at: number;
  /** False: the file ends in it. */
  hasEnd: boolean;
}

/**
 * The lines of a file one after another, in memory one at a time. A line beyond LONGEST_LINE_BYTES is refused.
 * @throws RecordingRefused.
 */
export function* linesOfFile(
  path: string,
  from: { at: number; number: number } = { at: 0, number: 1 },
): Generator<FileLine> {
  const file = opened(path);
  try {
    let { at, number } = from;
    let readAt = at;
    let held: Buffer = Buffer.alloc(0);
    const piece = Buffer.alloc(PIECE_BYTES);
    for (;;) {
      const count = piecesRead(file, piece, readAt, path);
      if (count === 0) break;
      readAt += count;
      held = held.length === 0 ? Buffer.from(piece.subarray(0, count)) : joined(held, piece, count);
      let begin = 0;
      for (;;) {
        const end = held.indexOf(0x0a, begin);
        if (end === -1) break;
        yield { bytes: held.subarray(begin, end), number, at: at + begin, hasEnd: true };
        number += 1;
        begin = end + 1;
      }
      at += begin;
      held = held.subarray(begin);
      if (held.length > LONGEST_LINE_BYTES)
        throw new RecordingRefused(number, lineTooLong(LONGEST_LINE_BYTES));
    }
    if (held.length > 0) yield { bytes: held, number, at, hasEnd: false };
  } finally {
    closeSync(file);
  }
}

function joined(held: Buffer, piece: Buffer, count: number): Buffer {
  return Buffer.concat([held, piece.subarray(0, count)]);
}

function opened(path: string): number {
  try {
    return openSync(path, 'r');
  } catch (error) {
    throw new RecordingRefused(null, fileNotRead(path, whyNot(error)));
  }
}

function piecesRead(file: number, piece: Buffer, at: number, path: string): number {
  try {
    return readSync(file, piece, 0, piece.length, at);
  } catch (error) {
    throw new RecordingRefused(null, fileNotRead(path, whyNot(error)));
  }
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EACCES: 'it may not be read',
  EPERM: 'it may not be read',
  EISDIR: 'it is a folder',
};

function whyNot(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code ?? String(error);
  return REASONS[code] ?? code;
}
