import { type Fault, formatLength, type Setup, type SweepResult } from '@taptrue/protocol';
import { surfaceFromReading } from '../measure/verdict/surface.ts';
import { stylusFactorOf } from './sweep-input-of.ts';

/** Parkings since one sweep that are reckoned on from; whoever parks oftener without a sweep should sweep. */
const MOST_PARKINGS = 20;
/** Parked within this of a place is parked there again, mm: a scribed station is found to half a millimetre. */
const SAME_PLACE_MM = 1;

/**
 * A reading at parking may differ by this from what is expected there, mm: hand-set stations, lag and a bow
 * stay below it, a moved zero or a moved vise seldom does.
 */
export const PARKED_DIFFERS_MM = 0.02;

/** One parking: from which reading to which the mallet brought the needle, and about which pivot. */
export interface Parking {
  parkedAtMm: number;
  parkedReadingMm: number;
  /** Where the needle rested last. */
  restMm: number;
  pivotMm: number;
}

/** What the mallet did since the last sweep, and what stands against reckoning on from it. */
export interface TapsSince {
  parkings: readonly Parking[];
  /** Why what the needle showed no longer tells how the vise lies; null: it does. */
  spoiled: string | null;
}

export const NO_TAPS: TapsSince = { parkings: [], spoiled: null };

export function withParking(since: TapsSince, parking: Parking): TapsSince {
  if (since.parkings.length < MOST_PARKINGS)
    return { ...since, parkings: [...since.parkings, parking] };
  return { ...since, spoiled: `the stylus was parked more than ${MOST_PARKINGS} times` };
}

export function spoiledBy(since: TapsSince, why: string): TapsSince {
  return { ...since, spoiled: since.spoiled ?? why };
}

/**
 * The line as the taps left it: each parking turned it by the change of height over its lever, about its own
 * pivot, which stayed where it was.
 */
export function lineAfter(
  swept: SweepResult,
  since: TapsSince,
  setup: Setup,
): Pick<SweepResult, 'slope' | 'interceptMm'> {
  const height = (mm: number) => surfaceFromReading(mm, setup.rises, stylusFactorOf(setup));
  return since.parkings.reduce(
    ({ slope, interceptMm }, { parkedAtMm, parkedReadingMm, restMm, pivotMm }) => {
      const turn = (height(restMm) - height(parkedReadingMm)) / (parkedAtMm - pivotMm);
      return { slope: slope + turn, interceptMm: interceptMm - turn * pivotMm };
    },
    { slope: swept.slope, interceptMm: swept.interceptMm },
  );
}

/** Refused where the stylus cannot be parked here by the taps; null: it can. */
export function notByTheTaps(
  since: TapsSince,
  xMm: number,
  readingMm: number,
  setup: Setup,
): Fault | null {
  if (since.spoiled !== null) return sweepFirst(since.spoiled);
  const last = since.parkings.at(-1);
  if (!last || Math.abs(last.parkedAtMm - xMm) > SAME_PLACE_MM) return null;
  if (Math.abs(readingMm - last.restMm) <= PARKED_DIFFERS_MM) return null;
  const [left, now] = [last.restMm, readingMm].map((mm) =>
    formatLength(mm, setup.displayUnit, { plus: true }),
  );
  return sweepFirst(`the needle was left at ${left} here, and shows ${now}`);
}

function sweepFirst(why: string): Fault {
  return {
    code: 'sweep-first',
    what: 'The vise was tapped since the last sweep, and how it lies now cannot be told from the taps.',
    got: why,
    remedy: 'Sweep again; then park the stylus and go on by the new line.',
  };
}
