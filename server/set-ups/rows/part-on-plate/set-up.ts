import type { SetUp } from '../../set-up.ts';

const NOT_MOVED = { direction: 'none', where: 'part' };

export const setUp: SetUp = {
  name: 'part-on-plate',
  title: 'the part that was cut, on bar and stack on a surface plate',
  picture:
    'M4 70h112M19 58A5 5 0 1 0 29 58A5 5 0 1 0 19 58M91 64A5 5 0 1 0 101 64A5 5 0 1 0 91 64M18 63h12v7h-12zM14 50L106 58M34 51L86 56V32H34zM60 31V19M53 12A7 7 0 1 0 67 12A7 7 0 1 0 53 12',
  swept: 'the face that was cut, with a height indicator',
  travel: 'along the part by hand; positions on the part, plus to the right',
  asks: [
    { option: 'set-angle', needed: true, words: 'angle that bar and stack stand at' },
    { option: 'stack', needed: false, words: 'end of the bar that stands on the stack' },
    { option: 'turned', needed: false, words: 'file of the sweep with the bar turned end for end' },
    { option: 'wanted-angle', needed: false, words: 'angle of the print, else the set angle' },
    {
      option: 'set-uncertainty',
      needed: false,
      words: 'standard uncertainty of the set angle: stack, bar, plate',
    },
  ],
  usualLimit: { mm: 0.029, overMm: 100, source: 'common practice, no source' },
  cautions: ['Wipe plate, bar, stack and part; a chip under the part is an angle.'],
  reports: ['part angle'],
  fit: 'line',
  axes: ['x'],
  planes: [
    {
      name: 'top',
      senses: 'height',
      corrects: [
        {
          kind: 'none',
          over: 'swept',
          x: {
            plus: { ...NOT_MOVED, say: 'The right end of the face lies {amount} low.' },
            minus: { ...NOT_MOVED, say: 'The right end of the face lies {amount} high.' },
          },
          y: null,
        },
      ],
      cautions: [],
    },
  ],
};
