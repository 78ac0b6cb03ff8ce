import type { Fault, LengthUnit, Rises, SetUpJudged, SetUpPoint } from '@taptrue/protocol';
import type { Told } from './told.ts';

/** Everything that a set-up's result follows from. Lengths in mm. */
export interface SetUpQuestion {
  plane: string;
  axis: 'x' | 'y';
  told: Told;
  points: readonly SetUpPoint[];
  unit: LengthUnit;
  /** Sense as the bench found it by its nudge; null: it did not. */
  benchRises: Rises | null;
  resolutionMm: number | null;
  permissibleErrorMm: number | null;
  repeatabilityMm: number | null;
}

export type SetUpOutcome = { ok: true; judged: SetUpJudged } | { ok: false; fault: Fault };
