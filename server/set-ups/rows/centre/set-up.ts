import type { SetUp } from '../../set-up.ts';

export const setUp: SetUp = {
  name: 'centre',
  title: 'centre on a bore, a boss or a rotary table',
  picture:
    'M26 40A34 34 0 1 0 94 40A34 34 0 1 0 26 40M56 40h8M60 36v8M60 40L84 58M80 58A4 4 0 1 0 88 58A4 4 0 1 0 80 58',
  swept: 'the wall of the bore or boss, all the way round',
  travel: 'spindle by hand, or the rotary table; angles counter-clockwise from +X seen from above',
  asks: [
    { option: 'face', needed: false, words: 'bore or boss; without it nothing is told to move' },
    { option: 'turns', needed: false, words: 'spindle, or work where the indicator stands still' },
  ],
  usualLimit: { mm: 0.0127, overMm: null, source: 'common practice, no source' },
  cautions: ['Take up the backlash: come to each position from the same side.'],
  reports: [],
  fit: 'circle',
  circle: {
    reads: 'wall round the axis',
    corrects: 'shift',
    perAmplitude: 1,
    hasJaws: false,
    usualFace: null,
    parts: [
      {
        name: 'X',
        towardDeg: 0,
        ways: {
          plus: { direction: 'right', where: 'work', say: 'Work to the right, {amount}.' },
          minus: { direction: 'left', where: 'work', say: 'Work to the left, {amount}.' },
        },
      },
      {
        name: 'Y',
        towardDeg: 90,
        ways: {
          plus: { direction: 'away', where: 'work', say: 'Work away from you, {amount}.' },
          minus: { direction: 'toward', where: 'work', say: 'Work toward you, {amount}.' },
        },
      },
    ],
    lobeWords: {
      2: 'it is oval, or it stands askew to the spindle',
      3: 'three lobes, as from a three-jaw grip',
    },
  },
};
