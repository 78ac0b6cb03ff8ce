import { isUtf8 } from 'node:buffer';
import {
  checkerOf,
  RECORDING_FORMAT,
  RECORDING_VERSION,
  RecordEntry,
  RecordingEnd,
  RecordingHeader,
} from '@taptrue/protocol';
import type { FileLine } from './lines-of-file.ts';
import {
  lineNotKnown,
  lineNotRead,
  lineOtherwise,
  newerFormat,
  notOurs,
  quoted,
  RecordingRefused,
} from './recording-faults.ts';

const headerCheck = checkerOf(RecordingHeader);
const entryCheck = checkerOf(RecordEntry);
const endCheck = checkerOf(RecordingEnd);

/** How a first line of ours begins: what is searched for behind a recording that was refused. */
export const HEADER_BEGINS = `{"format":"${RECORDING_FORMAT}"`;
const END_BEGINS = `{"end":"${RECORDING_FORMAT}"`;

export type CheckedLine =
  | { kind: 'entry'; entry: RecordEntry }
  | { kind: 'end'; end: RecordingEnd };

/** The first line of a recording. @throws RecordingRefused. */
export function checkHeader({ bytes, number }: FileLine): RecordingHeader {
  const text = bytes.toString('utf8');
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new RecordingRefused(number, notOurs(quoted(text)));
  }
  const said = value as { format?: unknown; formatVersion?: unknown } | null;
  if (said?.format !== RECORDING_FORMAT) throw new RecordingRefused(number, notOurs(quoted(text)));
  const version = said.formatVersion;
  if (typeof version === 'number' && version > RECORDING_VERSION)
    throw new RecordingRefused(number, newerFormat(quoted(String(version))));
  const checked = headerCheck.check(value);
  if (!checked.ok) throw new RecordingRefused(number, notOurs(checked.why));
  asWeWrite(text, bytes, value, number);
  return checked.value;
}

/** A line behind the first. @throws RecordingRefused. */
export function checkLine({ bytes, number }: FileLine): CheckedLine {
  if (!isUtf8(bytes)) {
    const text = bytes.toString('utf8');
    const at = text.indexOf('\uFFFD');
    throw new RecordingRefused(number, lineNotRead(`${quoted(text.slice(Math.max(0, at - 20)))}`));
  }
  const text = bytes.toString('utf8');
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new RecordingRefused(number, lineNotRead(`${quoted(text)} (${quoted(why)})`));
  }
  if (text.startsWith(END_BEGINS)) {
    const checked = endCheck.check(value);
    if (!checked.ok) throw new RecordingRefused(number, lineNotKnown(checked.why));
    asWeWrite(text, bytes, value, number);
    return { kind: 'end', end: checked.value };
  }
  const checked = entryCheck.check(value);
  if (!checked.ok) throw new RecordingRefused(number, lineNotKnown(quoted(checked.why, 200)));
  asWeWrite(text, bytes, value, number);
  return { kind: 'entry', entry: checked.value };
}

/**
 * What is kept is the line itself: a reader that takes the first of two equal names would see another record
 * than this program, and what is given out again would not be the same bytes.
 */
function asWeWrite(text: string, bytes: Buffer, value: unknown, line: number): void {
  const ours = JSON.stringify(value);
  if (ours === text) {
    // Only those are written with an exponent that has a plus; most lines need no second look.
    if (text.includes('e+') && holdsHuge(value))
      throw new RecordingRefused(line, lineNotKnown(`a number of ${HUGE} or more`));
    return;
  }
  let at = 0;
  while (at < ours.length && ours[at] === text[at]) at += 1;
  const where = `at character ${at + 1}: ${quoted(text.slice(Math.max(0, at - 20), at + 40))}`;
  const isReturn = bytes.at(-1) === 0x0d && ours === text.slice(0, -1);
  throw new RecordingRefused(line, lineOtherwise(isReturn ? 'a carriage return' : where));
}

/** Nothing that is measured, counted or timed comes near it, and what is reckoned from it runs out of numbers. */
const HUGE = 1e21;

function holdsHuge(value: unknown): boolean {
  if (typeof value === 'number') return Math.abs(value) >= HUGE;
  return typeof value === 'object' && value !== null && Object.values(value).some(holdsHuge);
}
