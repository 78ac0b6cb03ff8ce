import type { WholeReading } from '../decode-frame.ts';

/** A reading in words: `−0.0125 mm, channel 2`. Several axes with a semicolon between. */
export function sayReadings(readings: readonly WholeReading[]): string {
  return readings.map(sayReading).join('; ');
}

function sayReading({ value, decimals, unit, channel, status }: WholeReading): string {
  const number =
    value === null
      ? 'no number'
      : `${value.toFixed(decimals).replace('-', '−')}${unit ? ` ${unit}` : ''}`;
  return [number, channel && `channel ${channel}`, status === 'ok' ? null : status]
    .filter(Boolean)
    .join(', ');
}
