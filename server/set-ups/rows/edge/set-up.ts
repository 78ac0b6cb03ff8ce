import type { SetUp } from '../../set-up.ts';
import { TAP } from '../../tap-ways.ts';

export const setUp: SetUp = {
  name: 'edge',
  title: 'jaw, straightedge, fixture plate, angle plate or table slot along the travel',
  picture:
    'M12 14h96v14h-96zM40 30V40M33 47A7 7 0 1 0 47 47A7 7 0 1 0 33 47M62 48h36M93 44L98 48L93 52',
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
