import type { SetUp } from '../../set-up.ts';
import { TAP } from '../../tap-ways.ts';

export const setUp: SetUp = {
  name: 'rail',
  title: 'magnetic chuck or back rail of a grinder',
  picture:
    'M8 10h104v10h-104zM8 20v50h104v-50M44 22V32M37 39A7 7 0 1 0 51 39A7 7 0 1 0 37 39M66 40h32M93 36L98 40L93 44',
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
