import type { SetUp } from '../../set-up.ts';

const SAID_ONLY = {
  direction: 'none',
  where: 'tailstock',
};

export const setUp: SetUp = {
  name: 'between-centres',
  title: 'test bar between centres: the tailstock set over, or found high or low',
  picture:
    'M4 32h14L30 40L18 48H4M116 32h-14L90 40L102 48h14M30 34h60v12h-60zM60 48V58M53 65A7 7 0 1 0 67 65A7 7 0 1 0 53 65',
  swept: 'a true bar between the centres, from the side or from above',
  travel: 'carriage; positions on the work, plus to the right, headstock at the left',
  asks: [
    {
      option: 'from-headstock',
      needed: true,
      words: 'from the headstock centre to the tailstock centre',
    },
  ],
  usualLimit: { mm: 0.005, overMm: 300, source: 'common practice, no source' },
  cautions: ['Tighten the tailstock as for turning, then sweep again.'],
  reports: ['taper on the diameter'],
  fit: 'line',
  axes: ['x'],
  planes: [
    {
      name: 'side',
      senses: 'across',
      corrects: [
        {
          kind: 'set over',
          over: 'from-headstock',
          x: {
            plus: {
              direction: 'away',
              where: 'tailstock',
              say: 'Set the tailstock over, away from you, {amount}.',
            },
            minus: {
              direction: 'toward',
              where: 'tailstock',
              say: 'Set the tailstock over, toward you, {amount}.',
            },
          },
          y: null,
        },
      ],
      cautions: [],
    },
    {
      name: 'top',
      senses: 'height',
      corrects: [
        {
          kind: 'none',
          over: 'from-headstock',
          x: {
            plus: { ...SAID_ONLY, say: 'The tailstock centre lies {amount} low.' },
            minus: { ...SAID_ONLY, say: 'The tailstock centre lies {amount} high.' },
          },
          y: null,
        },
      ],
      cautions: [
        'Height is never tapped or set over: it is scraped or shimmed under the tailstock, and hardly shows in the diameter.',
      ],
    },
  ],
};
