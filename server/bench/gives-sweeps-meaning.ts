import type { Setup, SetupChange } from '@taptrue/protocol';

const PARTS: readonly (keyof Setup)[] = [
  'way',
  'axis',
  'stationsMm',
  'backPass',
  'feed',
  'counts',
  'leftEndCountMm',
  'entry',
  'keyedAs',
  'timing',
];

/** True of parts of the setup that give a sweep its meaning: they may not change under it. Pure. */
export function givesSweepsMeaning(change: SetupChange): boolean {
  return PARTS.some((part) => change[part] !== undefined);
}
