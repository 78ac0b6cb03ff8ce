import {
  isUsable,
  type LinkReport,
  type LiveSection,
  type Reading,
  type Setup,
} from '@taptrue/protocol';

/** What a reading on the glass is worth, in one word. */
export type StandingWord =
  | 'live'
  | 'held'
  | 'over range'
  | 'at its stop'
  | 'not a reading'
  | 'stale'
  | 'lost'
  | 'last sent'
  | 'keyed in'
  | 'no reading';

export interface ReadingStanding {
  word: StandingWord;
  /** Greyed: must not be read as where the surface stands now. */
  greyed: boolean;
  reading: Reading | null;
}

export interface StandingInput {
  live: LiveSection;
  link: Pick<LinkReport, 'state' | 'trigger'>;
  connected: boolean;
  /** The indicator's range as set up; null: not known. */
  range: Setup['indicator']['rangeMm'];
  /** Since the page received `live`, milliseconds of its own monotonic clock. */
  sinceReceiptMs: number;
}

/**
 * The rule of the stale word. Age is the age the service gave plus the time since the page received it. Devices
 * that send only when their key is pressed are not stale between presses: theirs is the last one sent.
 */
export function readingStanding(input: StandingInput): ReadingStanding {
  const { live, link, connected, sinceReceiptMs, range } = input;
  const reading = live.indicator;
  if (!connected || link.state === 'lost') return { word: 'lost', greyed: true, reading };
  if (reading === null) return { word: 'no reading', greyed: true, reading };
  const streamed = link.trigger === 'streams' || link.trigger === 'asked';
  const ageMs = (live.ageMs ?? 0) + sinceReceiptMs;
  if (streamed && ageMs > live.staleAfterMs) return { word: 'stale', greyed: true, reading };
  if (reading.status === 'hold') return { word: 'held', greyed: true, reading };
  if (reading.status === 'over range') return { word: 'over range', greyed: true, reading };
  if (!isUsable(reading)) return { word: 'not a reading', greyed: true, reading };
  if (isAtItsStop(reading.valueMm, range)) return { word: 'at its stop', greyed: true, reading };
  if (link.trigger === 'its own key') return { word: 'last sent', greyed: false, reading };
  if (!streamed) return { word: 'keyed in', greyed: false, reading };
  return { word: 'live', greyed: false, reading };
}

/**
 * Why nobody may go by what was reckoned from the last reading; empty: it holds. Where no device sends, the
 * last one was typed and stands.
 */
export function whyNotToGoBy({ word, greyed }: ReadingStanding): string {
  if (!greyed || word === 'no reading') return '';
  if (word === 'lost') return 'Do not tap by this number: the connection is lost.';
  if (word === 'stale') return 'Do not tap by this number: no reading comes.';
  return `Do not tap by this number: the reading is ${word}.`;
}

/** Half of a ten-thousandth of an inch: the last digit of a unit converted is no travel left. */
const STOP_SLACK_MM = 0.00127;

function isAtItsStop(valueMm: number, range: StandingInput['range']): boolean {
  if (range === null) return false;
  return valueMm <= range.lowMm + STOP_SLACK_MM || valueMm >= range.highMm - STOP_SLACK_MM;
}

/** The number as the device showed it: its own unit, its own decimals. */
export function readingText(reading: Reading | null): string {
  if (reading === null || reading.value === null) return '—';
  const digits = Math.abs(reading.value).toFixed(reading.decimals);
  const negative = reading.value < 0 && Number(digits) !== 0;
  return `${negative ? '−' : '+'}${digits}`;
}
