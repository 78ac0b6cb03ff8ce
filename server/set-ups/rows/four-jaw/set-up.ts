import type { SetUp } from '../../set-up.ts';

/** Jaws are numbered counter-clockwise seen from the tailstock. Work goes toward a jaw that is eased. */
export const setUp: SetUp = {
  name: 'four-jaw',
  title: 'work in a four-jaw chuck',
  picture:
    'M26 40A34 34 0 1 0 94 40A34 34 0 1 0 26 40M48 38A14 14 0 1 0 76 38A14 14 0 1 0 48 38M55 6h10v16h-10zM55 58h10v16h-10zM26 35h20v10h-20zM78 35h16v10h-16z',
  swept: 'the work all the way round, outside or in its bore',
  travel:
    'chuck by hand; angles of the places on the work, counter-clockwise seen from the tailstock',
  asks: [
    { option: 'jaw-one', needed: false, words: 'angle at which jaw one stands' },
    { option: 'face', needed: false, words: 'bore or boss (the outside)' },
    { option: 'turns', needed: false, words: 'work: the angles are how far the chuck was turned' },
  ],
  usualLimit: { mm: 0.0254, overMm: null, source: 'common practice, no source' },
  cautions: ['Ease one jaw before its opposite is tightened, and tighten all four at the end.'],
  reports: [],
  fit: 'circle',
  circle: {
    reads: 'wall round the axis',
    corrects: 'shift',
    perAmplitude: 1,
    hasJaws: true,
    usualFace: 'boss',
    parts: [
      {
        name: 'jaws 1 and 3',
        towardDeg: 0,
        ways: {
          plus: { direction: 'in', where: 'jaw 3', say: 'Ease jaw 1, tighten jaw 3 by {amount}.' },
          minus: { direction: 'in', where: 'jaw 1', say: 'Ease jaw 3, tighten jaw 1 by {amount}.' },
        },
      },
      {
        name: 'jaws 2 and 4',
        towardDeg: 90,
        ways: {
          plus: { direction: 'in', where: 'jaw 4', say: 'Ease jaw 2, tighten jaw 4 by {amount}.' },
          minus: { direction: 'in', where: 'jaw 2', say: 'Ease jaw 4, tighten jaw 2 by {amount}.' },
        },
      },
    ],
    lobeWords: {
      2: 'the work is oval, or sprung by two jaws',
      3: 'the work has three lobes, as from a three-jaw grip',
      4: 'the work is sprung by the four jaws',
    },
  },
};
