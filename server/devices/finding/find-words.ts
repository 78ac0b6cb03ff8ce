import type { LinkConfig, PortSettings } from '@taptrue/protocol';
import { type ControlLines, LINES_TRIED, type Tuning } from './settings-tried.ts';
import type { HeardReading } from './shape-hearing.ts';
import type { FindStep } from './steps.ts';

const PARITY_WORDS = { none: 'no parity', even: 'even parity', odd: 'odd parity' } as const;

/** `4800 baud, 7 bits, even parity`. */
export function settingsWords(settings: PortSettings): string {
  return `${settings.baudRate} baud, ${settings.dataBits} bits, ${PARITY_WORDS[settings.parity]}`;
}

/** `DTR up, RTS down`. */
export function linesWords(lines: ControlLines): string {
  return `DTR ${lines.dtr ? 'up' : 'down'}, RTS ${lines.rts ? 'up' : 'down'}`;
}

/** What is known of a lead that speaks only with these levels, and what is done about it. */
export function keptLinesWords(lines: ControlLines): string {
  return `It sends with ${linesWords(lines)} and is silent with both up: most likely its lead takes its power from these lines. They are kept so.`;
}

export function areUsual(lines: ControlLines): boolean {
  const usual = LINES_TRIED[0]!;
  return lines.dtr === usual.dtr && lines.rts === usual.rts;
}

/** The number as the device's own screen has it: `-0.0125`; the sign of plus is left out, as screens do. */
export function numberText(sample: HeardReading): string {
  return sample.value === null ? 'no number' : sample.value.toFixed(sample.decimals);
}

/** `mm` or `in`; the one sent where the line carries one. */
export function unitOf(unit: LinkConfig['unit'], sample: HeardReading): 'mm' | 'in' | null {
  return unit === 'as sent' ? sample.unit : unit;
}

/** What is being done now, one sentence for the screen. */
export function stepWords(step: FindStep): string {
  if (step.kind === 'question') return 'Something was recognised. Look at the device.';
  const at = atWords(step.tuning);
  switch (step.stage) {
    case 'listening':
      return `Listening${at}. Nothing is sent to the device.`;
    case 'asking':
      return `Asking for a reading${at}, one character at a time.`;
    case 'waiting for its key':
      return `Press the device’s send key, about every two seconds. Listening${at}.`;
    case 'making sure':
      return `Something was recognised; making sure${at}.`;
  }
}

function atWords({ settings, lines }: Tuning): string {
  if (settings === null) return '';
  const words = ` at ${settingsWords(settings)}`;
  return areUsual(lines) ? words : `${words}, ${linesWords(lines)}`;
}
