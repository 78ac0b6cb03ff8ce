import type { LineCorrection } from './set-up.ts';

/** A tap where nothing is said of pivot and mallet: one end, as it lies against the other. */
export const TAP: LineCorrection = {
  kind: 'tap',
  over: 'swept',
  x: {
    plus: {
      direction: 'away',
      where: 'right end',
      say: 'Tap the right end, away from you, {amount} against the left end.',
    },
    minus: {
      direction: 'toward',
      where: 'right end',
      say: 'Tap the right end, toward you, {amount} against the left end.',
    },
  },
  y: {
    plus: {
      direction: 'left',
      where: 'far end',
      say: 'Tap the far end, to the left, {amount} against the near end.',
    },
    minus: {
      direction: 'right',
      where: 'far end',
      say: 'Tap the far end, to the right, {amount} against the near end.',
    },
  },
};
