import { leadUnitOf, type Setup, type SetupChange } from '@taptrue/protocol';

const PARTS: readonly (keyof Setup)[] = [
  'way',
  'axis',
  'stationsMm',
  'sweptLengthMm',
  'backPass',
  'feed',
  'counts',
  'leftEndCountMm',
  'entry',
  'keyedAs',
  'timing',
];

/** True of parts of the setup that give a sweep its meaning: they may not change under it. Pure. */
export function givesSweepsMeaning(change: SetupChange, before: Setup): boolean {
  // While nobody has said it no lead is read, so that saying it changes the meaning of nothing taken.
  const leads = change.leadUnit !== undefined && leadUnitOf(before) !== null;
  return leads || PARTS.some((part) => change[part] !== undefined);
}
