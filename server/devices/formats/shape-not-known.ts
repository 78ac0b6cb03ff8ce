import type { Fault, LineShape } from '@taptrue/protocol';

/** @param known those that ship and the shop's own. */
export function shapeNotKnown(got: string, known: readonly LineShape[]): Fault {
  return {
    code: 'shape-not-known',
    what: 'There is no line shape of that name.',
    got,
    remedy: `Known shapes: ${known.map((shape) => shape.name).join(', ')}.`,
  };
}
