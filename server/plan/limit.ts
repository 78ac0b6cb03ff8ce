import {
  arcsecFromRadians,
  type Limit,
  radiansFromArcsec,
  type Tolerance,
} from '@taptrue/protocol';
import { dmsText } from './angle/echo-angle.ts';
import { readAngleText } from './angle/read-angle.ts';
import { readSize } from './exact-length.ts';
import { type Planned, refuse } from './plan-fault.ts';

const LEG_ENDS_MM = [10, 50, 120, 400, Number.POSITIVE_INFINITY];

/** ISO 2768-1:1989, angular dimensions, minutes either way by the length of the shorter leg. */
const ISO_MINUTES: Readonly<Record<'f' | 'm' | 'c' | 'v', readonly number[]>> = {
  f: [60, 30, 20, 10, 5],
  m: [60, 30, 20, 10, 5],
  c: [90, 60, 30, 15, 10],
  v: [180, 120, 60, 30, 20],
};

export function isoToleranceArcsec(name: 'f' | 'm' | 'c' | 'v', shorterLegMm: number): number {
  return ISO_MINUTES[name][LEG_ENDS_MM.findIndex((end) => shorterLegMm <= end)]! * 60;
}

export interface PlannedLimit {
  toleranceArcsec: number;
  /** What the sweep may be out of true: the tolerance times the set-up's share. */
  limit: Limit;
  sentence: string;
}

/**
 * The print's tolerance, either way, and the limit it leaves the sweep. `isWhole`: the print's angle goes from
 * side to side and half of it is set; both sides are then out by what the set-up is, so half is allowed it.
 */
export function limitOf(
  tolerance: Tolerance,
  share: number,
  isWhole = false,
): Planned<PlannedLimit> {
  if (!(share > 0 && share <= 1)) {
    return refuse(
      'setUpShare',
      'share-out-of-range',
      'The share of the set-up is not between 0 and 1.',
      String(share),
      'A quarter (0.25) to a tenth (0.1) is usual.',
    );
  }
  const percent = `${Number((share * 100).toFixed(1))} %`;
  if (tolerance.kind === 'rise') {
    const rise = readSize('tolerance rise', tolerance.rise.replace(/^\s*(±|\+\/?-)/, ''));
    if (!rise.ok) return rise;
    const over = readSize('tolerance length', tolerance.over);
    if (!over.ok) return over;
    const mm = rise.value.mm * share;
    return limited(
      arcsecFromRadians(Math.atan2(rise.value.mm, over.value.mm)),
      { kind: 'end to end', mm, overMm: over.value.mm },
      percent,
      share,
      `±${tolerance.rise.replace('±', '')} over ${tolerance.over}`,
    );
  }
  if (tolerance.kind === 'iso 2768-1') {
    const leg = readSize('shorter leg', tolerance.shorterLeg);
    if (!leg.ok) return leg;
    const printed = isoToleranceArcsec(tolerance.class, leg.value.mm);
    const arcsec = isWhole ? printed / 2 : printed;
    return limited(
      arcsec,
      { kind: 'angle', rad: radiansFromArcsec(arcsec * share) },
      percent,
      share,
      `ISO 2768-1 class ${tolerance.class}, shorter leg ${tolerance.shorterLeg}: ${eitherWay(printed, isWhole)}`,
    );
  }
  const text = tolerance.text.replace(/^\s*(±|\+\/?-)/, '');
  const read = readAngleText('tolerance', text);
  if (!read.ok) return read;
  if (read.value === 0)
    return refuse(
      'tolerance',
      'no-tolerance',
      'The tolerance is zero.',
      `"${tolerance.text}"`,
      'Write what the print allows either way, such as 5min.',
    );
  const arcsec = isWhole ? read.value / 2 : read.value;
  return limited(
    arcsec,
    { kind: 'angle', rad: radiansFromArcsec(arcsec * share) },
    percent,
    share,
    eitherWay(read.value, isWhole),
  );
}

function eitherWay(printedArcsec: number, isWhole: boolean): string {
  return isWhole
    ? `±${dmsText(printedArcsec)} on the whole angle, ±${dmsText(printedArcsec / 2)} on the half that is set`
    : `±${dmsText(printedArcsec)}`;
}

/** Wider than this is no tolerance but another angle; it is also where the sweep's own limit ends. */
const WIDEST_ARCSEC = 45 * 3600;

function limited(
  toleranceArcsec: number,
  limit: Limit,
  percent: string,
  share: number,
  words: string,
): Planned<PlannedLimit> {
  if (toleranceArcsec >= WIDEST_ARCSEC) {
    return refuse(
      'tolerance',
      'tolerance-too-wide',
      'The tolerance is 45 degrees or more.',
      words,
      'Check its unit.',
    );
  }
  return {
    ok: true,
    value: {
      toleranceArcsec,
      limit,
      sentence: `${words}; the set-up may take ${percent} of it: ±${dmsText(toleranceArcsec * share)}.`,
    },
  };
}
