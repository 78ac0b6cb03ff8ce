import { faultLine, type LinkReport, type Reading } from '@taptrue/protocol';
import { escapeControls } from '../devices/formats/escape-controls.ts';

/** Room for the raw side; what is longer pushes its own row out, never the others. */
const RAW_WIDTH = 36;

function secondsText(ms: number): string {
  return (ms / 1000).toFixed(3).padStart(9);
}

/** What one reading says, as it is shown beside its bytes. */
export function readingText(reading: Reading): string {
  const number =
    reading.value === null
      ? 'no number'
      : `${reading.value < 0 ? '-' : '+'}${Math.abs(reading.value).toFixed(reading.decimals)} ${reading.unit}`;
  const channel = reading.channel === null ? '' : `  channel ${reading.channel}`;
  return `${number}${channel}${reading.status === 'ok' ? '' : `  ${reading.status}`}`;
}

/** One chunk of bytes and the readings that ended in it, side by side; more readings below each other. */
export function chunkLines(chunk: Uint8Array, readings: readonly Reading[], ms: number): string[] {
  const raw = `"${escapeControls(Buffer.from(chunk).toString('latin1'))}"`;
  const [first, ...others] = readings.map(readingText);
  const left = `${secondsText(ms)}  ${raw.padEnd(RAW_WIDTH)}`;
  const below = `${' '.repeat(9)}  ${' '.repeat(RAW_WIDTH)}`;
  return [`${left}| ${first ?? ''}`.trimEnd(), ...others.map((text) => `${below}| ${text}`)];
}

/** One reading that came in no line: what stood in the registers or the document, and what it is. */
export function readingLine(reading: Reading, ms: number): string {
  return `${secondsText(ms)}  ${reading.text.padEnd(RAW_WIDTH)}| ${readingText(reading)}`;
}

/** A change of the line's state, with what to do where something is wrong. */
export function stateLine(report: LinkReport, ms: number): string {
  const fault = report.fault === null ? '' : `. ${faultLine(report.fault)}`;
  return `${secondsText(ms)}  -- ${report.state}${fault}`;
}

/** The counters, after the end. */
export function summaryText({ counters }: LinkReport, readings: number): string {
  return [
    '',
    `${readings} readings from ${counters.bytes} bytes.`,
    `Whole frames ${counters.frames}, not understood ${counters.framesNotUnderstood}, too long ${counters.framesTooLong}, partial ${counters.partialFramesDropped}.`,
    `Other channel ${counters.otherChannel}, unit refused ${counters.unitRefused}, reconnected ${counters.reconnects}.`,
    ...(counters.unanswered + counters.saidNo + counters.resyncs === 0
      ? []
      : [
          `Not answered ${counters.unanswered}, refused by the device ${counters.saidNo}, place found again ${counters.resyncs}.`,
        ]),
  ].join('\n');
}
