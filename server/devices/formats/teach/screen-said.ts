import type { WholeReading } from '../decode-frame.ts';

/** The number somebody read off the device's screen, with a unit behind it or not; null: none. */
function numberSaid(said: string): { value: number; decimals: number } | null {
  const found = /^\s*([+\-−]?)\s*(\d*)[.,]?(\d*)/.exec(said);
  const [, sign = '', whole = '', part = ''] = found ?? [];
  if (whole === '' && part === '') return null;
  const value = Number(`${whole || '0'}.${part || '0'}`);
  return { value: sign === '-' || sign === '−' ? -value : value, decimals: part.length };
}

/** Decimals that the screen shows, from the first line of which it was told; null: none was. */
export function decimalsSaid(screenSaid: readonly string[]): number | null {
  for (const said of screenSaid) {
    const number = numberSaid(said);
    if (number !== null) return number.decimals;
  }
  return null;
}

/** Why what is read is not what the screen showed; null where it is, or nothing was told. */
export function differsFromScreen(readings: readonly WholeReading[], said: string): string | null {
  const number = numberSaid(said);
  if (number === null) return said.trim() === '' ? null : `"${said}" is no number`;
  const near = readings.some(
    ({ value }) => value !== null && Math.abs(value - number.value) < 0.5 * 10 ** -number.decimals,
  );
  if (near) return null;
  const read = readings.map(({ value }) => value ?? 'no number').join(', ');
  return `the screen said ${said.trim()}, this reads ${String(read).replace('-', '−')}`;
}
