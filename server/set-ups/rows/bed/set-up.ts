import type { SetUp } from '../../set-up.ts';
import { SHIM_UNDER_FOOT } from '../../shim-ways.ts';

export const setUp: SetUp = {
  name: 'bed',
  title: 'vise bed, parallels or plate level with the travel',
  picture:
    'M10 48h100v14h-100zM18 62v8h10v-8M92 62v8h10v-8M44 46V34M37 27A7 7 0 1 0 51 27A7 7 0 1 0 37 27M62 30h36M93 26L98 30L93 34',
  swept: 'the upper face, from above',
  travel: 'table along X, or saddle along Y; positions on the work, plus to the right or away',
  asks: [{ option: 'foot-spacing', needed: true, words: 'how far apart the feet stand' }],
  usualLimit: { mm: 0.0127, overMm: null, source: 'common practice, no source' },
  cautions: ['Look for a chip or a burr under the low foot before a shim goes in.'],
  reports: [],
  fit: 'line',
  axes: ['x', 'y'],
  planes: [{ name: 'top', senses: 'height', corrects: [SHIM_UNDER_FOOT], cautions: [] }],
};
