import type { SetUp } from '../../set-up.ts';

/** Up is plus along the travel. A top that must go away rises at its near foot, and so round. */
export const setUp: SetUp = {
  name: 'square',
  title: 'square, angle plate or column by knee or quill travel',
  picture:
    'M30 70V12H44V56H80V70zM46 24H58M58 24A7 7 0 1 0 72 24A7 7 0 1 0 58 24M100 46v20M96 61L100 66L104 61',
  swept: 'the upright face',
  travel: 'knee or quill; positions on the work, plus up. With axis y the stylus looks along X',
  asks: [
    { option: 'foot-spacing', needed: false, words: 'how far apart the feet stand, for a shim' },
  ],
  usualLimit: { mm: 0.0127, overMm: 100, source: 'common practice, no source' },
  cautions: ['The knee raised puts the stylus lower on the work: the position falls.'],
  reports: [],
  fit: 'line',
  axes: ['x', 'y'],
  planes: [
    {
      name: 'upright',
      senses: 'across',
      corrects: [
        {
          kind: 'shim',
          over: 'foot-spacing',
          x: {
            plus: {
              direction: 'up',
              where: 'near foot',
              say: 'Shim {amount} under the near foot: the top goes away from you.',
            },
            minus: {
              direction: 'up',
              where: 'far foot',
              say: 'Shim {amount} under the far foot: the top comes toward you.',
            },
          },
          y: {
            plus: {
              direction: 'up',
              where: 'right foot',
              say: 'Shim {amount} under the right foot: the top goes to the left.',
            },
            minus: {
              direction: 'up',
              where: 'left foot',
              say: 'Shim {amount} under the left foot: the top goes to the right.',
            },
          },
        },
        {
          kind: 'tilt',
          over: 'swept',
          x: {
            plus: {
              direction: 'away',
              where: 'top',
              say: 'Tilt the top away from you, {amount} over the swept height.',
            },
            minus: {
              direction: 'toward',
              where: 'top',
              say: 'Tilt the top toward you, {amount} over the swept height.',
            },
          },
          y: {
            plus: {
              direction: 'left',
              where: 'top',
              say: 'Tilt the top to the left, {amount} over the swept height.',
            },
            minus: {
              direction: 'right',
              where: 'top',
              say: 'Tilt the top to the right, {amount} over the swept height.',
            },
          },
        },
      ],
      cautions: [],
    },
  ],
};
