/**
 * The vise as it stands, from above. Lengths in millimetres, angles in radians, counter-clockwise positive.
 * Along the jaw is counted from its middle, positive to the operator's right while the vise stands straight.
 */
export interface ViseScene {
  jawWidthMm: number;
  /** Of the jaw from X. */
  jawRad: number;
  solidJaw: 'rear' | 'front';
  /** Left and right clamp, along the jaw. */
  boltsMm: readonly [number, number];
  swivelMm: number;
  /** What lies against the jaw; null: nothing, the jaw itself is swept. */
  bar: SineBar | FlatBar | null;
}

/** A bar on rolls, one of them on the stack. */
export interface SineBar {
  kind: 'sine';
  lengthMm: number;
  /** null: not known, drawn as a tenth of the length. */
  rollDiameterMm: number | null;
  raisedEnd: 'left' | 'right';
  /** Of the bar against the jaw; its sign is not looked at. */
  tiltRad: number;
  /** Height of the blocks under the other roll, 0 where there are none. */
  lowStackMm: number;
  /** Sizes from the jaw outward, for the joints; empty: not decided, the stack is drawn in one. */
  blocksMm: readonly number[];
  lowBlocksMm: readonly number[];
}

/** A straight bar flat on the jaw, from one place along the jaw to another. */
export interface FlatBar {
  kind: 'flat';
  fromMm: number;
  toMm: number;
}

/** Parts of the vise against the width of its jaw: drawn to look like one, no number hangs on them. */
export const PROPORTIONS = {
  solidDepth: 0.15,
  backRim: 0.02,
  movingDepth: 0.11,
  plateDepth: 0.03,
  leastOpening: 0.15,
  screwDepth: 0.03,
  boltAt: 0.41,
  boltRadius: 0.045,
  jawInset: 0.02,
  flatBar: 0.045,
  /** Against the bar's own length. */
  barBody: 0.07,
} as const;

/** A vise of the usual 6 in jaw, clamped at both ends, standing straight with nothing in it. */
export function bareVise(solidJaw: ViseScene['solidJaw'], jawWidthMm = 152.4): ViseScene {
  const bolt = jawWidthMm * PROPORTIONS.boltAt;
  return { jawWidthMm, jawRad: 0, solidJaw, boltsMm: [-bolt, bolt], swivelMm: 0, bar: null };
}
