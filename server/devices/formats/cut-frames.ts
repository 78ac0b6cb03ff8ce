import type { Framing, LineShape } from '@taptrue/protocol';
import { FixedFrameCutter } from './cut-fixed-frames.ts';
import { LineCutter } from './cut-lines.ts';
import { PackedFrameCutter } from './cut-packed-frames.ts';
import { RecordCutter } from './cut-records.ts';
import { decodeAxes } from './decode-frame.ts';
import type { BeginsWhere, FrameCutter, FrameProof } from './frame-cutter.ts';
import { isShiftProof } from './shift-proof.ts';

/** Nothing is known of what is in it: only the start character and the length tell. */
const NO_PROOF: FrameProof = { isWhole: () => true, shiftProof: false };

/** The cutter for one framing. `begins` says whether the first byte is known to begin a frame. */
export function makeFrameCutter(
  framing: Framing,
  begins: BeginsWhere = 'anywhere',
  proof: FrameProof = NO_PROOF,
): FrameCutter {
  if (framing.terminator === 'no line end') return new PackedFrameCutter(framing, begins, proof);
  if (framing.fixedBytes !== undefined) return new FixedFrameCutter(framing);
  const lines = new LineCutter(framing, begins);
  return framing.record === undefined ? lines : new RecordCutter(framing.record, lines);
}

/** The cutter for one shape, with the proof that its fields give. */
export function makeShapeCutter(shape: LineShape, begins: BeginsWhere = 'anywhere'): FrameCutter {
  const { framing } = shape;
  if (framing.terminator !== 'no line end') return makeFrameCutter(framing, begins);
  return makeFrameCutter(framing, begins, {
    isWhole: (body) => decodeAxes(body, shape).kind === 'readings',
    shiftProof: isShiftProof(shape),
  });
}
