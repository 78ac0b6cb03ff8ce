import type { SetUp } from '../../set-up.ts';
import { TAP } from '../../tap-ways.ts';

export const setUp: SetUp = {
  name: 'vise-bar',
  title: 'vise jaw set to an angle by a bar on a stack',
  swept: 'the working face of the bar between jaw and stack',
  travel: 'table along X, or saddle along Y; positions on the work, plus to the right or away',
  asks: [
    { option: 'pivot', needed: false, words: 'where the vise turns' },
    { option: 'mallet', needed: false, words: 'where the mallet strikes' },
  ],
  usualLimit: { mm: 0.0127, overMm: null, source: 'common practice, no source' },
  cautions: ['The sweep does not see stack, bar or seat: prove the part.'],
  reports: [],
  fit: 'line',
  axes: ['x', 'y'],
  planes: [{ name: 'side', senses: 'across', corrects: [TAP], cautions: [] }],
};
