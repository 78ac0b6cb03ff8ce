/** A place on a drawing in pixels (y grows downward), or in the vise and the shop in millimetres (y grows away). */
export interface Spot {
  x: number;
  y: number;
}

export type Anchor = 'start' | 'middle' | 'end';

/**
 * What the one picture is made of. `part` names the part of the vise or the mark drawn; screen and paper dress
 * it under that name, and nothing here knows a colour.
 */
export type Mark =
  | { kind: 'path'; part: string; d: string }
  | { kind: 'circle'; part: string; at: Spot; r: number }
  | { kind: 'word'; part: string; at: Spot; anchor: Anchor; text: string }
  | { kind: 'group'; part: string; transform: string; marks: Mark[] };

export const add = (a: Spot, b: Spot, by = 1): Spot => ({ x: a.x + b.x * by, y: a.y + b.y * by });

/** Turned counter-clockwise about the origin, in a frame whose y grows away. */
export function turned(spot: Spot, rad: number): Spot {
  const [c, s] = [Math.cos(rad), Math.sin(rad)];
  return { x: spot.x * c - spot.y * s, y: spot.x * s + spot.y * c };
}

/** A tenth of a pixel is finer than any screen or printer shows. */
export const figure = (value: number): string => String(Math.round(value * 10) / 10);

export const at = ({ x, y }: Spot): string => `${figure(x)} ${figure(y)}`;

export function outline(spots: readonly Spot[], isOpen = false): string {
  return `M${spots.map(at).join('L')}${isOpen ? '' : 'Z'}`;
}

/** Moved to a place and turned as SVG turns, clockwise positive; `size` 1 is as drawn. */
export function standing(part: string, place: Spot, deg: number, marks: Mark[], size = 1): Mark {
  const scale = size === 1 ? '' : ` scale(${Number(size.toFixed(2))})`;
  return {
    kind: 'group',
    part,
    transform: `translate(${at(place)}) rotate(${Number(deg.toFixed(2))})${scale}`,
    marks,
  };
}

export interface Bounds {
  left: number;
  right: number;
  low: number;
  high: number;
}

export function boundsOf(spots: readonly Spot[]): Bounds {
  const xs = spots.map(({ x }) => x);
  const ys = spots.map(({ y }) => y);
  return {
    left: Math.min(...xs),
    right: Math.max(...xs),
    low: Math.min(...ys),
    high: Math.max(...ys),
  };
}
