import { add, at, figure, type Mark, type Spot, turned } from './marks.ts';

/** Shortest turn that is drawn as one: below this the arrow would be all head. */
const LEAST_TURN_RAD = 0.2;
const HALF_BAND_PX = 8;
const HALF_HEAD_PX = 19;
const HEAD_PX = 20;

/** The turn from straight to set about the pivot. Places in the shop, mm. */
export interface Turn {
  pivot: Spot;
  /** Reach of the arrow from the pivot; negative to the left. */
  armMm: number;
  toRad: number;
  way: 'clockwise' | 'counter-clockwise';
}

const signOf = ({ way }: Turn) => (way === 'counter-clockwise' ? 1 : -1);
const sweepOf = ({ toRad }: Turn) => Math.max(Math.abs(toRad), LEAST_TURN_RAD);

function onArc(turn: Turn, rad: number, radiusMm = Math.abs(turn.armMm)): Spot {
  const armRad = turn.armMm > 0 ? 0 : Math.PI;
  return add(turn.pivot, turned({ x: radiusMm, y: 0 }, armRad + rad));
}

/** What the arrow covers, so that it can be made room for. */
export function turnSpots(turn: Turn): Spot[] {
  const [sign, sweep] = [signOf(turn), sweepOf(turn)];
  return Array.from({ length: 9 }, (_, step) =>
    onArc(turn, turn.toRad - sign * sweep * (1 - step / 8)),
  );
}

/** Straight, set, and the arrow from one to the other. */
export function drawTurn(turn: Turn, px: (spot: Spot) => Spot, pxPerMm: number): Mark[] {
  const [sign, sweep] = [signOf(turn), sweepOf(turn)];
  const armMm = Math.abs(turn.armMm);
  const radius = armMm * pxPerMm;
  const fromRad = turn.toRad - sign * sweep;
  const headRad = Math.min(sweep * 0.55, HEAD_PX / radius);
  const neckRad = turn.toRad - sign * headRad;
  const spot = (rad: number, beyondPx = 0) => at(px(onArc(turn, rad, armMm + beyondPx / pxPerMm)));
  const arc = (beyondPx: number, isBack: boolean, to: string) =>
    `A${figure(radius + beyondPx)} ${figure(radius + beyondPx)} 0 0 ${sign > 0 === isBack ? 1 : 0} ${to}`;
  const ray = (rad: number) => `M${at(px(turn.pivot))}L${at(px(onArc(turn, rad, armMm * 1.06)))}`;
  return [
    { kind: 'path', part: 'ray', d: ray(fromRad) },
    { kind: 'path', part: 'ray', d: ray(turn.toRad) },
    {
      kind: 'path',
      part: 'arrow',
      d: [
        `M${spot(fromRad, HALF_BAND_PX)}`,
        arc(HALF_BAND_PX, false, spot(neckRad, HALF_BAND_PX)),
        `L${spot(neckRad, HALF_HEAD_PX)}L${spot(turn.toRad + sign * headRad * 0.35)}`,
        `L${spot(neckRad, -HALF_HEAD_PX)}L${spot(neckRad, -HALF_BAND_PX)}`,
        arc(-HALF_BAND_PX, true, spot(fromRad, -HALF_BAND_PX)),
        'Z',
      ].join(''),
    },
  ];
}
