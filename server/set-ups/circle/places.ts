/** Two angles nearer than this are one place: nobody sets a spindle by hand to a degree. */
const ONE_PLACE_DEG = 1;

/** Angle brought into [0, 360). */
export function roundDeg(deg: number): number {
  const turned = deg % 360;
  return turned < 0 ? turned + 360 : turned;
}

/** Signed way from one angle to another, the short way round, in (-180, 180]. */
export function wayDeg(fromDeg: number, toDeg: number): number {
  const way = roundDeg(toDeg - fromDeg);
  return way > 180 ? way - 360 : way;
}

/** The places there are readings of, each once, ascending in [0, 360). */
export function placesOf(anglesDeg: readonly number[]): number[] {
  const sorted = anglesDeg.map(roundDeg).sort((a, b) => a - b);
  const places: number[] = [];
  for (const deg of sorted) {
    const last = places.at(-1);
    if (last === undefined || deg - last >= ONE_PLACE_DEG) places.push(deg);
  }
  if (places.length > 1 && places[0]! + 360 - places.at(-1)! < ONE_PLACE_DEG) places.pop();
  return places;
}

/** The widest way without a reading, degrees; 360 with one place. */
export function widestGapDeg(places: readonly number[]): number {
  return places.reduce((widest, deg, index) => {
    const next = index + 1 < places.length ? places[index + 1]! : places[0]! + 360;
    return Math.max(widest, next - deg);
  }, 0);
}

/** A few degrees off is still even to who sets by eye. */
const EVEN_WITHIN_DEG = 5;

/** The places stand at even steps round the turn. */
export function areEven(places: readonly number[]): boolean {
  const step = 360 / places.length;
  return places.every((deg, index) => {
    const next = index + 1 < places.length ? places[index + 1]! : places[0]! + 360;
    return Math.abs(next - deg - step) <= EVEN_WITHIN_DEG;
  });
}

/** True where the turning went one way and then the other, as the readings are listed. */
export function turnedBack(anglesDeg: readonly number[]): boolean {
  let forward = false;
  let backward = false;
  for (let index = 1; index < anglesDeg.length; index += 1) {
    const way = wayDeg(anglesDeg[index - 1]!, anglesDeg[index]!);
    // Half a turn is neither way.
    if (way > ONE_PLACE_DEG && way < 180) forward = true;
    if (way < -ONE_PLACE_DEG) backward = true;
  }
  return forward && backward;
}
