import type { LineShape } from '@taptrue/protocol';
import { checkShape } from './check-shape.ts';
import { axisReadout } from './shipped/axis-readout.ts';
import { bareNumberAsked } from './shipped/bare-number-asked.ts';
import { channelTagged } from './shipped/channel-tagged.ts';
import { commaList } from './shipped/comma-list.ts';
import { fixedDigitFrame } from './shipped/fixed-digit-frame.ts';
import { signedDecimal, signedDecimalByKey } from './shipped/signed-decimal.ts';
import { stxImpliedPoint3, stxImpliedPoint4 } from './shipped/stx-implied-point.ts';

/** Every shape that is shipped. A new device family is a row here and a file of data beside the others. */
export const SHAPES: readonly LineShape[] = [
  signedDecimal,
  signedDecimalByKey,
  channelTagged,
  commaList,
  axisReadout,
  stxImpliedPoint3,
  stxImpliedPoint4,
  fixedDigitFrame,
  bareNumberAsked,
].map(passedItsOwnSamples);

/** The shape of this name, or null where there is none. */
export function shapeNamed(name: string): LineShape | null {
  return SHAPES.find((shape) => shape.name === name) ?? null;
}

function passedItsOwnSamples(shape: LineShape): LineShape {
  const checked = checkShape(shape);
  if (!checked.ok) throw new Error(checked.faults.map((fault) => fault.what).join(' '));
  return checked.shape;
}
