import type { SetUp } from '../../set-up.ts';
import { TAP } from '../../tap-ways.ts';

export const setUp: SetUp = {
  name: 'small-slope',
  title: 'jaw swept direct to a small slope, without a bar',
  picture:
    'M10 10L110 18V32L10 24zM40 30V40M33 47A7 7 0 1 0 47 47A7 7 0 1 0 33 47M62 54h36M93 50L98 54L93 58',
  swept: 'the solid jaw itself',
  travel: 'table along X, or saddle along Y; positions on the work, plus to the right or away',
  asks: [
    { option: 'target-slope', needed: true, words: 'the slope wanted, tangent of the angle' },
    { option: 'pivot', needed: false, words: 'where the vise turns' },
    { option: 'mallet', needed: false, words: 'where the mallet strikes' },
  ],
  usualLimit: { mm: 0.0127, overMm: null, source: 'common practice, no source' },
  cautions: [
    'A slope is as good as the positions: an error of one part in a hundred along the jaw is one in the slope.',
  ],
  reports: [],
  fit: 'line',
  axes: ['x', 'y'],
  planes: [{ name: 'side', senses: 'across', corrects: [TAP], cautions: [] }],
};
