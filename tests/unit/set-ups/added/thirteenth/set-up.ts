import type { SetUp } from '@taptrue/server/set-ups/set-up.ts';

/** A saw's fence, for the tests only: one folder is all that a set-up more takes. */
export const setUp: SetUp = {
  name: 'thirteenth',
  title: 'fence along the slot of a saw table',
  picture: 'M10 70V10h8V70zM40 70V10M60 40h20',
  swept: 'the fence',
  travel: 'a block slid along the slot; plus away from you is to the right here',
  asks: [],
  usualLimit: { mm: 0.1, overMm: 500, source: 'common practice, no source' },
  cautions: [],
  reports: [],
  fit: 'line',
  axes: ['x'],
  planes: [
    {
      name: 'side',
      senses: 'across',
      corrects: [
        {
          kind: 'shift',
          over: 'swept',
          x: {
            plus: { direction: 'away', where: 'far clamp', say: 'Push the far clamp {amount}.' },
            minus: { direction: 'toward', where: 'far clamp', say: 'Pull the far clamp {amount}.' },
          },
          y: null,
        },
      ],
      cautions: [],
    },
  ],
};
