import { type Caution, type Setup, type Stage, slopeToTapTo } from '@taptrue/protocol';
import type { SweepInput } from '../measure/verdict/sweep-input.ts';
import type { TakenPass, Taker } from './sample-sources.ts';

/** True travel per shown travel by this setup. */
export function stylusFactorOf(setup: Setup): number {
  switch (setup.stylus.kind) {
    case 'as read':
      return 1;
    case 'nudge factor':
      return setup.stylus.factor;
    case 'stylus angle':
      return Math.cos(setup.stylus.rad);
  }
}

/** Stations say themselves what they span; else it is the length that was marked, planned or set. */
function spokenLengthOf(setup: Setup): number {
  if (setup.way !== 'stations') return setup.sweptLengthMm;
  return Math.max(...setup.stationsMm) - Math.min(...setup.stationsMm);
}

/**
 * The question a bench puts to the mathematics.
 * @param stage of the sweep, where the user may aim off; left out: the tap is to the target.
 * @param digitMm one step of the last digit the device or the typing shows; stands in for a resolution not given.
 */
export function sweepInputOf(
  setup: Setup,
  passes: readonly TakenPass[],
  pointsAre: Taker['pointsAre'],
  { xMm, malletMm }: { xMm: number; malletMm: number },
  digitMm: number | null,
  stage: Stage | null = null,
  noticed: readonly Caution[] = [],
): SweepInput {
  const aimed = stage === null ? setup.targetSlope : slopeToTapTo(setup, stage);
  return {
    passes,
    axis: setup.axis,
    displayUnit: setup.displayUnit,
    rises: setup.rises,
    stylusFactor: stylusFactorOf(setup),
    targetSlope: setup.targetSlope,
    ...(aimed !== setup.targetSlope && { aimedSlope: aimed }),
    pivot: { xMm, acrossMm: setup.pivot.acrossMm },
    malletMm,
    parked: null,
    limit: setup.limit,
    spokenLengthMm: spokenLengthOf(setup),
    decisionRule: setup.decisionRule,
    resolutionMm: setup.indicator.resolutionMm ?? digitMm,
    permissibleErrorMm: setup.indicator.permissibleErrorMm,
    repeatabilityMm: setup.indicator.repeatabilityMm,
    rangeMm: setup.indicator.rangeMm,
    pointsAre,
    ...(noticed.length > 0 && { noticed }),
  };
}
