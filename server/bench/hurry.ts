import { type Caution, formatLength, type LengthUnit } from '@taptrue/protocol';

/** A hand that follows a needle sweeps a bar at 5 to 20 mm/s; beyond this lag and bounce rule (common practice, no source). */
const FASTEST_MM_PER_S = 60;
/** Two presses sooner than this are one hand that slipped: no bar is swept in it, ms. */
const SHORTEST_MS = 2000;

/** What is said of a pass that took so long over so much; null: it was slow enough. Pure. */
export function hurried(lengthMm: number, tookMs: number, unit: LengthUnit): Caution | null {
  const mmPerS = (lengthMm / Math.max(tookMs, 1)) * 1000;
  if (tookMs >= SHORTEST_MS && mmPerS <= FASTEST_MM_PER_S) return null;
  const speed = formatLength(mmPerS, unit, { decimals: unit === 'in' ? 1 : 0 });
  return {
    code: 'swept-in-a-hurry',
    text: `The way along the bar took ${(tookMs / 1000).toFixed(1)} s, that is ${speed} a second: too fast to be sure that it was swept. It is not called true. Sweep again, slower; at constant feed press as the stylus passes each mark.`,
  };
}
