import type { SetUp } from '../../set-up.ts';

/** The slide carries the indicator: a line that must gain slope wants the slide turned the other way. */
export const setUp: SetUp = {
  name: 'taper',
  title: 'taper attachment or compound set to an angle or a taper per foot',
  picture: 'M8 32L112 40V66H8zM16 70L104 76M60 36V24M53 17A7 7 0 1 0 67 17A7 7 0 1 0 53 17',
  swept: 'a true bar between centres, or a standing taper gauge, with the indicator on the slide',
  travel: 'the slide to be set; positions along it, plus to the right',
  asks: [
    { option: 'target-slope', needed: false, words: 'slope the line is to show, or' },
    { option: 'taper-per-foot', needed: false, words: 'taper on the diameter per foot, or' },
    { option: 'half-angle', needed: false, words: 'angle of the slide to the axis' },
  ],
  usualLimit: { mm: 0.0127, overMm: 100, source: 'common practice, no source' },
  cautions: [
    'A wanted slope is plus where the bar seems to go away from you to the right: there the slide comes toward you.',
    'The tool must stand at the height of the centre, or the taper turned is another.',
  ],
  reports: ['taper on the diameter'],
  fit: 'line',
  axes: ['x'],
  planes: [
    {
      name: 'side',
      senses: 'across',
      corrects: [
        {
          kind: 'swing',
          over: 'swept',
          x: {
            plus: {
              direction: 'clockwise',
              where: 'slide',
              say: 'Swing the slide clockwise seen from above, {amount} over the swept length.',
            },
            minus: {
              direction: 'counter-clockwise',
              where: 'slide',
              say: 'Swing the slide counter-clockwise seen from above, {amount} over the swept length.',
            },
          },
          y: null,
        },
      ],
      cautions: [],
    },
  ],
};
