import type { SetUp } from '../../set-up.ts';
import { TAP } from '../../tap-ways.ts';

export const setUp: SetUp = {
  name: 'vise-bar',
  title: 'vise jaw set to an angle by a bar on a stack',
  picture:
    'M10 6h100v10h-100zM14 38L106 20M14 37A4 4 0 1 0 22 37A4 4 0 1 0 14 37M98 21A4 4 0 1 0 106 21A4 4 0 1 0 98 21M98 16h8v3h-8zM60 31V41M53 48A7 7 0 1 0 67 48A7 7 0 1 0 53 48',
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
