import type { Rises } from '@taptrue/protocol';
import type { Dice } from './random.ts';

/** What one indicator on its mount is. Millimetres of true travel unless said otherwise. */
export interface IndicatorBuild {
  rises: Rises;
  /** Smallest step of the display, mm. */
  resolutionMm: number;
  /** Travel to either side of the middle before the stylus meets its stop. */
  rangeMm: number;
  /** Play between stylus and display: what the two directions of a sweep differ by. */
  lagMm: number;
  /** Standard deviation of one reading. */
  noiseMm: number;
  /** Growth of mount and spindle, taken as seen by the display. */
  driftMmPerMinute: number;
  /** True travel per shown travel; the cosine of the stylus angle, 1 along the surface. */
  stylusFactor: number;
}

export interface IndicatorState {
  /** What is taken off the display since it was zeroed, in shown mm. */
  zeroMm: number;
  /** Where the stylus train stands after its play; null before the first contact. */
  heldMm: number | null;
}

export type Contact = 'on the work' | 'at its stop' | 'off the work';

export interface Shown {
  state: IndicatorState;
  /** Number on the display, mm; the last one where the stylus is off the work; null before any contact. */
  shownMm: number | null;
  contact: Contact;
}

/** A mechanism with play follows only once the play is taken up. */
function withPlay(heldMm: number | null, trueMm: number, lagMm: number): number {
  if (heldMm === null) return trueMm;
  return Math.min(Math.max(heldMm, trueMm - lagMm / 2), trueMm + lagMm / 2);
}

function toStep(mm: number, stepMm: number): number {
  return Math.round(mm / stepMm) * stepMm;
}

/**
 * One reading. `surfaceMm` is the surface's y relative to the indicator's middle (null: nothing under the
 * stylus), `atMs` the time since the indicator was mounted.
 */
export function readIndicator(
  build: IndicatorBuild,
  state: IndicatorState,
  surfaceMm: number | null,
  atMs: number,
  dice: Dice,
): Shown {
  const noiseMm = dice.normal(0, build.noiseMm);
  const driftMm = (build.driftMmPerMinute * atMs) / 60_000;
  const heldMm = surfaceMm === null ? state.heldMm : withPlay(state.heldMm, surfaceMm, build.lagMm);
  const next = { ...state, heldMm };
  if (heldMm === null) return { state: next, shownMm: null, contact: 'off the work' };
  const pressedMm = (build.rises === 'toward' ? -heldMm : heldMm) + driftMm + noiseMm;
  const atStop = Math.abs(pressedMm) >= build.rangeMm;
  const travelMm = atStop ? Math.sign(pressedMm) * build.rangeMm : pressedMm;
  const shownMm = toStep(travelMm / build.stylusFactor - state.zeroMm, build.resolutionMm);
  const contact = surfaceMm === null ? 'off the work' : atStop ? 'at its stop' : 'on the work';
  return { state: next, shownMm, contact };
}

/** The display brought to zero where it stands now (`shownMm` is what it showed). */
export function zeroed(state: IndicatorState, shownMm: number): IndicatorState {
  return { ...state, zeroMm: state.zeroMm + shownMm };
}
