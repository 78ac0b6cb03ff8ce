import { equalStationsMm, type Setup, type SetupChange } from '@taptrue/protocol';

/** Rounding of inches, mm: nearer than this two places are one. */
const SAME_MM = 0.01;

/**
 * A change of the bar's length with what follows from it: stations spread over the old length are spread over the
 * new one, as are any that would lie beyond it; a feed over the whole of the old one runs over the whole of the
 * new. A quarter of a shorter bar is another place, and a reading booked at the old one is a slope too small. Pure.
 */
export function stationsOnBar(change: SetupChange, before: Setup): SetupChange {
  const lengthMm = change.sweptLengthMm;
  if (lengthMm === undefined || Math.abs(lengthMm - before.sweptLengthMm) < SAME_MM) return change;
  const { stationsMm, feed } = before;
  const spread = equalStationsMm(0, before.sweptLengthMm, stationsMm.length);
  const isSpread = stationsMm.every((xMm, index) => Math.abs(xMm - spread[index]!) < SAME_MM);
  const isBeyond = Math.max(...stationsMm) > lengthMm + SAME_MM;
  const wholeFeed = Math.abs(feed.distanceMm - before.sweptLengthMm) < SAME_MM;
  return {
    ...((isSpread || isBeyond) && {
      stationsMm: equalStationsMm(0, lengthMm, stationsMm.length),
    }),
    ...(wholeFeed && { feed: { ...feed, distanceMm: lengthMm } }),
    ...change,
  };
}
