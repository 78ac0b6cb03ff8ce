import type { LineShape } from '@taptrue/protocol';
import { checkShape } from './check-shape.ts';
import { twoAxesInLine } from './shipped/axes-in-line.ts';
import { axisColon } from './shipped/axis-colon.ts';
import { axisReadout } from './shipped/axis-readout.ts';
import { bareNumberAsked } from './shipped/bare-number-asked.ts';
import { channelTagged } from './shipped/channel-tagged.ts';
import { channelTypeUnit } from './shipped/channel-type-unit.ts';
import { commaColumns } from './shipped/comma-columns.ts';
import { commaList } from './shipped/comma-list.ts';
import { countInHex } from './shipped/count-in-hex.ts';
import { fixedDigitFrame } from './shipped/fixed-digit-frame.ts';
import { jsonObject } from './shipped/json-object.ts';
import { pipeList } from './shipped/pipe-list.ts';
import { printedAxis } from './shipped/printed-axis.ts';
import { sevenHexCharacters } from './shipped/seven-hex-characters.ts';
import { signedDecimal, signedDecimalByKey } from './shipped/signed-decimal.ts';
import { signedDecimalComma } from './shipped/signed-decimal-comma.ts';
import { stxImpliedPoint3, stxImpliedPoint4 } from './shipped/stx-implied-point.ts';
import { thirteenHalfBytes, thirteenHexCharacters } from './shipped/thirteen-half-bytes.ts';
import { timeAndColumns } from './shipped/time-and-columns.ts';

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
  channelTypeUnit,
  signedDecimalComma,
  axisColon,
  twoAxesInLine,
  printedAxis,
  timeAndColumns,
  pipeList,
  commaColumns,
  jsonObject,
  thirteenHalfBytes,
  thirteenHexCharacters,
  sevenHexCharacters,
  countInHex,
].map(passedItsOwnSamples);

/** The shape of this name among those that ship, or null where there is none. */
export function shapeNamed(name: string): LineShape | null {
  return SHIPPED.named(name);
}

/** The shapes that can be named here: those that ship, and the shop's own beside them. */
export class ShapeTable {
  readonly own: readonly LineShape[];
  readonly all: readonly LineShape[];

  /** @param own checked already; one with the name of a shipped shape is never looked at. */
  constructor(own: readonly LineShape[] = []) {
    this.own = own;
    this.all = [...SHAPES, ...own];
  }

  named(name: string): LineShape | null {
    return this.all.find((shape) => shape.name === name) ?? null;
  }
}

/** What ships, without the shop's own. */
export const SHIPPED = new ShapeTable();

function passedItsOwnSamples(shape: LineShape): LineShape {
  const checked = checkShape(shape);
  if (!checked.ok) throw new Error(checked.faults.map((fault) => fault.what).join(' '));
  return checked.shape;
}
