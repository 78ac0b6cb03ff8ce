import type { SetUp } from '../../set-up.ts';
import { TAP } from '../../tap-ways.ts';

export const setUp: SetUp = {
  name: 'edge',
  title: 'jaw, straightedge, fixture plate, angle plate or table slot along the travel',
  swept: 'the edge that is to lie along the travel',
  travel: 'table along X, or saddle along Y; positions on the work, plus to the right or away',
  asks: [
    { option: 'pivot', needed: false, words: 'where it turns' },
    { option: 'mallet', needed: false, words: 'where the mallet strikes' },
  ],
  usualLimit: { mm: 0.0127, overMm: null, source: 'common practice, no source' },
  cautions: [],
  reports: [],
  fit: 'line',
  axes: ['x', 'y'],
  planes: [{ name: 'side', senses: 'across', corrects: [TAP], cautions: [] }],
};
