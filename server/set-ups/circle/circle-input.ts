import type { Caution, LengthUnit, Rises, Verdict } from '@taptrue/protocol';
import type { CircleSetUp } from '../set-up.ts';
import type { CircleCorrection } from './correct-circle.ts';
import type { CirclePoint } from './fit-circle.ts';
import type { Lobes } from './lobes.ts';

/** Fewer places round give the number and no verdict: they cannot tell lobes from being off. */
export const LEAST_PLACES_FOR_VERDICT = 7;

/** Nothing is called over a third of a turn that was not read: lobes hide there, however many places there are. */
export const WIDEST_GAP_DEG = 120;

/** Everything one circle is judged from. Lengths in mm; null: not known, not said. */
export interface CircleInput {
  setUp: CircleSetUp;
  points: readonly CirclePoint[];
  diameterMm: number;
  displayUnit: LengthUnit;
  /** null: taken as rising when pressed, and said. */
  rises: Rises | null;
  face: 'bore' | 'boss' | null;
  /** null: the angles are places on the work. */
  turns: 'spindle' | 'work' | null;
  jawOneDeg: number | null;
  /** On the whole movement of the needle that is left to put right: twice the amplitude. */
  limitMm: number | null;
  resolutionMm: number | null;
  permissibleErrorMm: number | null;
  repeatabilityMm: number | null;
}

export interface CircleResult {
  setUp: string;
  points: number;
  /** Places that differ. */
  places: number;
  diameterMm: number;
  meanMm: number;
  /** Half of what the needle moves in a turn, lobes left out: tilt at the stylus, or eccentricity. */
  amplitudeMm: number;
  /** Angle, as in the file, where the reading is highest; degrees in [0, 360). */
  towardDeg: number;
  amplitudeExpandedMm: number | null;
  amplitudeStandardMm: number | null;
  degreesOfFreedom: number | null;
  /** Twice the amplitude: what the limit is on. */
  totalMm: number;
  /** For a face along the axis: total over diameter. null: not a tilt. */
  tiltRad: number | null;
  /** Peak to valley of what is left at the places read; null with three places, which leave nothing. */
  outOfRoundMm: number | null;
  lobes: Lobes | null;
  limitMm: number | null;
  correction: CircleCorrection | null;
  verdict: Verdict | null;
  cautions: Caution[];
  sentence: string;
}
