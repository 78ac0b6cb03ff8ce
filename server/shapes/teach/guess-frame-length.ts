/** Shorter is no frame, longer none of a gauge. */
const SHORTEST = 3;
const LONGEST = 32;

export interface FrameLength {
  length: number;
  /** Where the first frame begins in what was captured. */
  from: number;
}

/**
 * The length at which bytes come back, from bytes without line ends: at the right one some places always hold the
 * same byte. `whole`: the first byte begins a frame. null: none fits three frames.
 */
export function guessFrameLength(
  captured: string,
  { bytes, whole }: { bytes: number | null; whole: boolean },
): FrameLength | null {
  let best: { length: number; steady: number } | null = null;
  const lengths =
    bytes === null
      ? Array.from({ length: LONGEST - SHORTEST + 1 }, (_, index) => SHORTEST + index)
      : [bytes];
  for (const length of lengths) {
    if (captured.length < 3 * length) continue;
    const steady = steadyPlaces(captured, length).length / length;
    // A multiple of the length is as steady; the shortest is meant.
    if (steady > (best?.steady ?? 0) + 1e-9) best = { length, steady };
  }
  if (best === null) return null;
  const { length } = best;
  return { length, from: whole ? 0 : firstOf(captured, length) };
}

/** Places of the period that hold the same byte in every frame. */
function steadyPlaces(captured: string, length: number): number[] {
  const places: number[] = [];
  for (let place = 0; place < length; place += 1) {
    let at = place + length;
    while (at < captured.length && captured[at] === captured[place]) at += length;
    if (at >= captured.length) places.push(place);
  }
  return places;
}

/** A start byte is the steady one that is met nowhere else; where several could be, the first of a run. */
function firstOf(captured: string, length: number): number {
  const steady = steadyPlaces(captured, length);
  const count = (byte: string) => captured.split(byte).length;
  let best = steady[0] ?? 0;
  for (const place of steady) {
    if (count(captured.charAt(place)) < count(captured.charAt(best))) best = place;
  }
  // FF FF: the run begins at the first of them.
  for (let step = 0; step < length; step += 1) {
    const before = (best + length - 1) % length;
    if (!steady.includes(before) || captured[before] !== captured[best]) break;
    best = before;
  }
  return best;
}
