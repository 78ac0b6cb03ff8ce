import type { LinkState } from '@taptrue/protocol';
import type { StandingWord } from '../../view/reading-standing.ts';

const DISC = 'M12 3a9 9 0 1 0 .01 0z';
const RING = 'M12 3a9 9 0 1 0 .01 0zM12 8a4 4 0 1 1-.01 0z';
const TWO_BARS = 'M5 3h5v18H5zM14 3h5v18h-5z';
const AGAINST_STOP = 'M3 10h11V4l7 8-7 8v-6H3zM21 3h2v18h-2z';
const CROSS = 'M3 6l3-3 6 6 6-6 3 3-6 6 6 6-3 3-6-6-6 6-3-3 6-6z';
const HOLLOW = 'M3 3h18v18H3zM7 7v10h10V7z';
const DOWN_KEY = 'M4 14h16v7H4zM10 2h4v6h4l-6 5-6-5h4z';
const PARTED = 'M1 9h8v6H1zM15 9h8v6h-8z';

/** A shape for each word, so that the state is told without colour and from across the shop. */
export const STANDING_SHAPES: Readonly<Record<StandingWord, string>> = {
  live: DISC,
  held: TWO_BARS,
  'over range': AGAINST_STOP,
  'at its stop': AGAINST_STOP,
  'not a reading': CROSS,
  stale: RING,
  lost: PARTED,
  'last sent': DOWN_KEY,
  'keyed in': DOWN_KEY,
  'no reading': HOLLOW,
};

export const LINK_SHAPES: Readonly<Record<LinkState, string>> = {
  'not set': HOLLOW,
  opening: RING,
  live: DISC,
  'waiting for its key': DOWN_KEY,
  silent: RING,
  'not understood': CROSS,
  lost: PARTED,
  refused: CROSS,
};
