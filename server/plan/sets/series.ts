import type { GaugeBlock } from '@taptrue/protocol';

/** Blocks `from` to `to` by `step`, in ten-thousandths of the unit, engraved with `decimals`. */
export function series(from: number, to: number, step: number, decimals: number): GaugeBlock[] {
  const blocks: GaugeBlock[] = [];
  for (let size = from; size <= to; size += step) {
    blocks.push({ size: (size / 10_000).toFixed(decimals) });
  }
  return blocks;
}

/** Single blocks as engraved. */
export function singles(...sizes: string[]): GaugeBlock[] {
  return sizes.map((size) => ({ size }));
}
