import { MM_PER_INCH } from '@taptrue/protocol';
import { BAR_LENGTH_MM, type BenchBuild, buildBench } from '@taptrue/simulators/bench-build.ts';
import { Dice } from '@taptrue/simulators/random.ts';
import { viseAt } from '@taptrue/simulators/vise.ts';

const THOU_MM = MM_PER_INCH / 1000;

export type PivotPlace = 'left clamp' | 'right clamp' | 'swivel' | 'anywhere';
const PLACES: readonly PivotPlace[] = ['left clamp', 'right clamp', 'swivel', 'anywhere'];
const PLACE_MM = { 'left clamp': -8, 'right clamp': 135, swivel: 63.5 } as const;

export interface DrawnBench {
  seed: number;
  place: PivotPlace;
  truePivotMm: number;
  declaredPivotMm: number;
  /** The end that the chaser zeroes first: nobody told him which. */
  zeroesLeftFirst: boolean;
  build: BenchBuild;
}

/** A bench for the comparison: pivot place, noise, lag, blows and the user's belief all drawn from the seed. */
export function drawBench(seed: number): DrawnBench {
  const dice = new Dice(seed);
  const place = PLACES[dice.below(PLACES.length)]!;
  const truePivotMm =
    place === 'anywhere' ? dice.between(-20, 147) : PLACE_MM[place] + dice.normal(0, 4);
  // One user in ten is wrong about what holds the vise; the others by some 10 mm.
  const declaredPivotMm = dice.happens(0.1)
    ? dice.between(-20, 147)
    : truePivotMm + dice.normal(0, 10);
  const usual = buildBench({ seed: dice.seed() });
  const vise = {
    ...usual.vise,
    pivotMm: {
      free: truePivotMm,
      nipped: truePivotMm,
      snug: truePivotMm,
      tight: truePivotMm,
    },
    bowMm: dice.normal(0, 0.0015),
    blowScatter: dice.between(0.1, 0.4),
    stickProbability: dice.between(0, 0.25),
  };
  const endToEndMm = (dice.happens(0.5) ? 1 : -1) * dice.between(3, 20) * THOU_MM;
  return {
    seed,
    place,
    truePivotMm,
    declaredPivotMm,
    zeroesLeftFirst: dice.happens(0.5),
    build: {
      ...usual,
      vise,
      startsAt: viseAt(vise, Math.atan(endToEndMm / BAR_LENGTH_MM), 'nipped'),
      indicator: {
        ...usual.indicator,
        // Wide enough that a chase which gets worse is not cut short by the indicator's stop.
        rangeMm: 3,
        lagMm: dice.between(0, 0.004),
        noiseMm: dice.between(0.0003, 0.002),
      },
    },
  };
}
