import { type LengthUnit, MM_PER_INCH, type Rises, type Stage } from '@taptrue/protocol';
import type { IndicatorBuild } from './indicator.ts';
import { Dice } from './random.ts';
import type { ReadoutBuild } from './readout.ts';
import {
  USUAL_BLOWS_MM,
  USUAL_GRIP,
  USUAL_SHIFT,
  type ViseBuild,
  type ViseState,
  viseAt,
} from './vise.ts';

/** A 5 in bar in a 6 in vise, as a new bench starts with. */
export const BAR_LENGTH_MM = 127;
/** The swivel is held by the left clamp. */
const LEFT_CLAMP_MM = -8;
const THOU_MM = MM_PER_INCH / 1000;

export interface BenchBuild {
  vise: ViseBuild;
  startsAt: ViseState;
  indicator: IndicatorBuild;
  readout: ReadoutBuild;
}

/** How a scenario differs from the usual one; null or absent: drawn from the seed. */
export interface Scenario {
  seed: number;
  /** End to end over the bar, mm; positive: the right end lies farther away. */
  outOfTrueMm?: number | null;
  rises?: Rises;
  /** Both displays step as such displays do: 0.00005 and 0.0002 in, or 0.001 and 0.005 mm. */
  unit?: LengthUnit;
  lagMm?: number;
  noiseMm?: number;
}

/**
 * One vise with its bar, indicator and readout, by the seed: out of true by 0.010 to 0.020 in end to end
 * either way, turning near the left clamp, not quite where anyone would say.
 */
export function buildBench(scenario: Scenario): BenchBuild {
  const dice = new Dice(scenario.seed);
  const drawnMm = (dice.happens(0.5) ? 1 : -1) * dice.between(10, 20) * THOU_MM;
  const nippedMm = LEFT_CLAMP_MM + dice.normal(0, 5);
  const snugMm = nippedMm + dice.normal(0, 2);
  const tightMm = snugMm + dice.normal(0, 2);
  const pivotMm: Record<Stage, number> = {
    free: nippedMm,
    nipped: nippedMm,
    snug: snugMm,
    tight: tightMm,
  };
  const vise: ViseBuild = {
    pivotMm,
    pivotAcrossMm: dice.between(20, 60),
    barLengthMm: BAR_LENGTH_MM,
    bowMm: dice.normal(0, 0.001),
    chip: null,
    grip: USUAL_GRIP,
    shift: USUAL_SHIFT,
    blowMm: USUAL_BLOWS_MM,
    blowScatter: 0.25,
    stickProbability: 0.12,
  };
  const metric = scenario.unit === 'mm';
  const angleRad = Math.atan((scenario.outOfTrueMm ?? drawnMm) / BAR_LENGTH_MM);
  return {
    vise,
    startsAt: viseAt(vise, angleRad, 'nipped'),
    indicator: {
      rises: scenario.rises ?? 'toward',
      resolutionMm: metric ? 0.001 : 0.05 * THOU_MM,
      rangeMm: 30 * THOU_MM,
      lagMm: scenario.lagMm ?? 0.0015,
      noiseMm: scenario.noiseMm ?? 0.0006,
      driftMmPerMinute: dice.normal(0, 0.0001),
      stylusFactor: 1,
    },
    readout: { counts: 1, resolutionMm: metric ? 0.005 : 0.2 * THOU_MM, leftEndCountMm: 0 },
  };
}
