import type { Verdict } from '@taptrue/protocol';
import { studentT } from '../measure/verdict/student-t.ts';
import { welchSatterthwaite } from '../measure/verdict/uncertainty.ts';

/** The part on bar and stack: what its face says of its angle. Radians. */
export interface PartAngle {
  partAngleRad: number;
  /** Part less wanted. */
  offRad: number;
  /** Combined standard uncertainty of the part angle; null: that of the sweep is not known. */
  standardRad: number | null;
  degreesOfFreedom: number | null;
}

/**
 * Angle of a part whose base lies on a bar inclined by `setRad`, with the height of its face falling or
 * rising by `slope` along +x. Stack at the left: the bar falls to the right by the set angle, the face
 * rises from the bar by the part's, so part = set + atan(slope). Stack at the right: the mirror.
 */
export function partAngle(question: {
  setRad: number;
  wantedRad: number;
  slope: number;
  stack: 'left' | 'right';
  sweepStandardRad: number | null;
  sweepDegreesOfFreedom: number | null;
  setStandardRad: number;
}): PartAngle {
  const { sweepStandardRad, setStandardRad } = question;
  const standardRad =
    sweepStandardRad === null ? null : Math.hypot(sweepStandardRad, setStandardRad);
  const mirrored = question.stack === 'left' ? 1 : -1;
  const partAngleRad = question.setRad + mirrored * Math.atan(question.slope);
  return {
    partAngleRad,
    offRad: partAngleRad - question.wantedRad,
    standardRad,
    degreesOfFreedom:
      standardRad === null || sweepStandardRad === null
        ? null
        : welchSatterthwaite(standardRad, [
            [sweepStandardRad, question.sweepDegreesOfFreedom],
            [setStandardRad, null],
          ]),
  };
}

/** A figure that equals the limit to rounding is inside it. */
const ROUNDING = 1e-9;

/** The part against the tolerance of the print, guarded by Student's t of 95 % one-sided. */
export function judgePart(part: PartAngle, toleranceRad: number, isPlain: boolean): Verdict {
  const size = Math.abs(part.offRad);
  const edge = toleranceRad * (1 + ROUNDING);
  if (isPlain) return size <= edge ? 'true' : 'not true';
  if (part.standardRad === null) return 'too close to call';
  const guard = studentT(0.95, part.degreesOfFreedom) * part.standardRad;
  if (size + guard <= edge) return 'true';
  return size - guard > edge ? 'not true' : 'too close to call';
}

/**
 * Slope the bar in the vise is to show next time, so that the angle comes smaller by what the part is too
 * large. Stack at the right roll in the vise leaves the jaw at plus the angle, at the left at minus.
 */
export function nextTargetSlope(offRad: number, viseStack: 'left' | 'right'): number {
  return viseStack === 'right' ? -Math.tan(offRad) : Math.tan(offRad);
}
