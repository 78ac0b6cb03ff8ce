import type { PortSettings } from '@taptrue/protocol';

/** Levels of the two control lines of a port; leads without a battery live on them. */
export interface ControlLines {
  dtr: boolean;
  rts: boolean;
}

/** How a port is set while it is listened to. `settings` null: there is nothing to set (a socket). */
export interface Tuning {
  settings: PortSettings | null;
  lines: ControlLines;
}

/**
 * Speeds, likeliest first. 9600 is by far the commonest in documents of instruments; 2400 to 38400 are met
 * on others; 115200 and 57600 are what home-made bridges use (common practice, no source).
 */
export const BAUD_RATES = [9600, 115200, 4800, 19200, 38400, 2400, 57600, 1200] as const;

/** DTR up, RTS up is what an opened port has; leads fed from the port want one of them down (a voltage across). */
export const LINES_TRIED: readonly ControlLines[] = [
  { dtr: true, rts: true },
  { dtr: true, rts: false },
  { dtr: false, rts: true },
];

export type Framing = Pick<PortSettings, 'dataBits' | 'parity' | 'stopBits'>;

/**
 * What a port is set to while listening. Eight bits without parity hears seven bits with parity too: the
 * frame has the same ten bits, and the parity bit arrives as the eighth. A receiver looks at the first
 * stop bit only, so that two stop bits need no setting of their own. Five framings in three settings.
 */
export const WIDE_EAR: Framing = { dataBits: 8, parity: 'none', stopBits: 1 };
export const PARITY_EARS: readonly Framing[] = [
  { dataBits: 8, parity: 'even', stopBits: 1 },
  { dataBits: 8, parity: 'odd', stopBits: 1 },
];

/** Every framing that is told apart, likeliest first. Each stands for its like with two stop bits as well. */
export const FRAMINGS: readonly Framing[] = [
  WIDE_EAR,
  { dataBits: 7, parity: 'even', stopBits: 1 },
  { dataBits: 7, parity: 'odd', stopBits: 1 },
  ...PARITY_EARS,
];

export function tuningOf(baudRate: number | null, framing: Framing, lines: ControlLines): Tuning {
  return { settings: baudRate === null ? null : { baudRate, ...framing }, lines };
}

export function sameTuning(one: Tuning, other: Tuning): boolean {
  const a = one.settings;
  const b = other.settings;
  return (
    a?.baudRate === b?.baudRate &&
    a?.dataBits === b?.dataBits &&
    a?.parity === b?.parity &&
    a?.stopBits === b?.stopBits &&
    one.lines.dtr === other.lines.dtr &&
    one.lines.rts === other.lines.rts
  );
}

/** What a search tries: speeds (one, null, where there is nothing to set) and levels of the control lines. */
export interface Tried {
  baudRates: readonly (number | null)[];
  lines: readonly ControlLines[];
}

export const TRIED_ON_SERIAL: Tried = { baudRates: BAUD_RATES, lines: LINES_TRIED };
/** A socket, or a device of the simulated bench: no speed, no parity, no control lines. */
export const TRIED_WITHOUT_SETTINGS: Tried = { baudRates: [null], lines: [LINES_TRIED[0]!] };
