import type { SetUp } from '../../set-up.ts';

/** Where the reading is high the sweep lies low: the top of the head leans over that side, and must go back. */
export const setUp: SetUp = {
  name: 'head',
  title: 'head square to the table',
  picture:
    'M48 4h24v24h-24zM60 28v8M60 36H90V50M86 54A4 4 0 1 0 94 54A4 4 0 1 0 86 54M4 66h112M28 66A32 6 0 0 1 92 66',
  swept: 'the table or a plate on it, the indicator swung round by the spindle',
  travel: 'spindle by hand; angles counter-clockwise from +X seen from above',
  asks: [],
  usualLimit: { mm: 0.0127, overMm: null, source: 'common practice, no source' },
  cautions: ['Tighten the head in stages and sweep again: it moves as it is tightened.'],
  reports: [],
  fit: 'circle',
  circle: {
    reads: 'face along the axis',
    corrects: 'tilt',
    perAmplitude: 2,
    hasJaws: false,
    usualFace: null,
    parts: [
      {
        name: 'side',
        towardDeg: 0,
        ways: {
          plus: {
            direction: 'right',
            where: 'top of the head',
            say: 'Top of the head to the right (clockwise seen from in front): {amount}.',
          },
          minus: {
            direction: 'left',
            where: 'top of the head',
            say: 'Top of the head to the left (counter-clockwise seen from in front): {amount}.',
          },
        },
      },
      {
        name: 'fore-and-aft',
        towardDeg: 90,
        ways: {
          plus: {
            direction: 'away',
            where: 'top of the head',
            say: 'Top of the head back, away from you: {amount}.',
          },
          minus: {
            direction: 'toward',
            where: 'top of the head',
            say: 'Top of the head forward, toward you: {amount}.',
          },
        },
      },
    ],
    lobeWords: {
      2: 'the table is bowed, or the stylus does not stay in one plane as the spindle turns',
      3: 'the stylus crosses slots or a burr, or a bearing of the spindle has play',
    },
  },
};
