import type { SetUp } from '../../set-up.ts';
import { TAP } from '../../tap-ways.ts';

export const setUp: SetUp = {
  name: 'rail',
  title: 'magnetic chuck or back rail of a grinder',
  swept: 'the rail that work is laid against, or the edge of the chuck',
  travel: 'table along X; positions on the work, plus to the right',
  asks: [
    { option: 'pivot', needed: false, words: 'where it turns' },
    { option: 'mallet', needed: false, words: 'where the mallet strikes' },
  ],
  usualLimit: { mm: 0.0025, overMm: null, source: 'common practice, no source' },
  cautions: ['Stop the wheel and move it clear before the indicator goes in.'],
  reports: [],
  fit: 'line',
  axes: ['x'],
  planes: [{ name: 'side', senses: 'across', corrects: [TAP], cautions: [] }],
};
