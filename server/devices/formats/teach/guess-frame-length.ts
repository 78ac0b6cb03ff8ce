/** Shorter is no frame, longer none of a gauge. */
const SHORTEST = 3;
const LONGEST = 32;

export interface FrameLength {
  length: number;
  /** Where the first frame begins in what was captured. */
  from: number;
}

/**
 * The length at which bytes come back, from bytes without line ends: the shortest at which some place always holds
 * the same byte, and one that is met nowhere else if there is any. `whole`: the first byte begins a frame. null: none
 * fits three frames.
 */
export function guessFrameLength(
  captured: string,
  { bytes, whole }: { bytes: number | null; whole: boolean },
): FrameLength | null {
  const lengths = (
    bytes === null
      ? Array.from({ length: LONGEST - SHORTEST + 1 }, (_, index) => SHORTEST + index)
      : [bytes]
  ).filter((length) => captured.length >= 3 * length);
  const steady = lengths.filter((length) => steadyPlaces(captured, length).length > 0);
  const length = steady.find((one) => hasOwnByte(captured, one)) ?? steady[0];
  if (length === undefined) return null;
  return { length, from: whole ? 0 : firstOf(captured, length) };
}

/** A steady place holds a byte that is met nowhere else. */
function hasOwnByte(captured: string, length: number): boolean {
  return steadyPlaces(captured, length).some((place) => {
    const frames = Math.ceil((captured.length - place) / length);
    return captured.split(captured.charAt(place)).length - 1 === frames;
  });
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
