import type { BenchState } from '../messages/bench-state.ts';
import { bareVise, type SweptPoint, type SweptScene, type ViseScene } from '../picture/index.ts';
import { plannedVise } from '../plan/plan-scene.ts';
import { radiansFromArcsec } from '../quantity/units.ts';

/** What the picture is drawn from. The plan gives the vise its angle, bar and stack once it is in use. */
export type SweptState = Pick<BenchState, 'setup' | 'sweep' | 'pivot' | 'tap' | 'plan'>;

/** Narrower no vise is drawn, mm, whatever was typed of its ends. */
const NARROWEST_VISE_MM = 20;

/** The vise at the bench, as it lies under the indicator. */
export function sweptScene(state: SweptState): SweptScene {
  const { setup, sweep, pivot, tap } = state;
  const result = sweep?.result ?? null;
  const remainingRad = tap?.remainingArcsec == null ? null : radiansFromArcsec(tap.remainingArcsec);
  // Without the sense the drawing would lean one way by chance: it lies level until that is known.
  const lean =
    remainingRad !== null ? -remainingRad : result === null ? 0 : result.slope - setup.targetSlope;
  const { vise, middleMm } = viseAtBench(state);
  const { leftEndMm, rightEndMm, leftClampMm, rightClampMm } = setup.vise;
  return {
    vise,
    axis: setup.axis,
    middleMm,
    sweptLengthMm: setup.sweptLengthMm,
    spotsMm: [leftEndMm, rightEndMm, leftClampMm, rightClampMm],
    stationsMm: setup.way === 'stations' ? setup.stationsMm : [],
    pivot: {
      xMm: pivot.xMm,
      uncertaintyMm: pivot.uncertaintyMm,
      isLearned: pivot.inUse === 'learned',
    },
    malletMm: pivot.malletMm,
    mallet: malletOf(state),
    lean: setup.rises === null ? 0 : lean,
    limitSlope: result?.limitArcsec == null ? 0 : radiansFromArcsec(result.limitArcsec),
    points: pointsOf(state),
  };
}

function viseAtBench({ setup, plan }: SweptState): { vise: ViseScene; middleMm: number } {
  const { answer, question, inUse } = plan;
  if (inUse && answer !== null && answer.direction.sweepAxis === setup.axis)
    return { vise: plannedVise(answer), middleMm: setup.sweptLengthMm / 2 };
  const { leftEndMm, rightEndMm, leftClampMm, rightClampMm, swivelCentreMm } = setup.vise;
  const middle = (leftEndMm + rightEndMm) / 2;
  const width = Math.max(NARROWEST_VISE_MM, Math.abs(rightEndMm - leftEndMm));
  return {
    vise: {
      ...bareVise(question.jaw.solid, width),
      // Swept along Y, the jaw lies along Y: the drawing turns it level again.
      jawRad: setup.axis === 'y' ? Math.PI / 2 : 0,
      boltsMm: [leftClampMm - middle, rightClampMm - middle],
      swivelMm: swivelCentreMm - middle,
      bar: { kind: 'flat', fromMm: -middle, toMm: setup.sweptLengthMm - middle },
    },
    middleMm: setup.sweptLengthMm / 2,
  };
}

function malletOf({ sweep, tap }: SweptState): 'up' | 'down' | null {
  const result = sweep?.result ?? null;
  const advice = result?.tap ?? null;
  if (advice === null || advice.amountMm <= 0) return null;
  const isWanted =
    tap === null
      ? sweep?.outdated === '' && result?.verdict !== 'true'
      : tap.standing === 'keep tapping' || tap.standing === 'past';
  if (!isWanted) return null;
  const isUp =
    tap?.remainingAtMalletMm != null
      ? tap.remainingAtMalletMm > 0
      : advice.direction === 'away' || advice.direction === 'left';
  return isUp ? 'up' : 'down';
}

/** Surface heights of the points: y = -r where the reading rises toward the operator. */
function pointsOf({ setup, sweep }: SweptState): SweptPoint[] {
  const sense = setup.rises === 'toward' ? -1 : 1;
  const scale =
    setup.stylus.kind === 'nudge factor'
      ? setup.stylus.factor
      : setup.stylus.kind === 'stylus angle'
        ? Math.cos(setup.stylus.rad)
        : 1;
  const result = sweep?.result ?? null;
  const heights = (sweep?.points ?? []).map((point) => ({
    ...point,
    yMm: sense * scale * point.readingMm,
  }));
  const mean = heights.reduce((sum, { yMm }) => sum + yMm, 0) / Math.max(1, heights.length);
  return heights.map(({ xMm, yMm, pass }) => ({
    xMm,
    pass,
    offMm: yMm - (result === null ? mean : result.interceptMm + result.slope * xMm),
  }));
}
