import type { PassName } from '@taptrue/protocol';

/** A point with how many readings stand behind it. */
export interface TakenPoint {
  xMm: number;
  readingMm: number;
  samples: number;
}

export interface TakenPass {
  pass: PassName;
  points: readonly TakenPoint[];
}

/** One way of getting from readings to points along the work. */
export interface Taker {
  /** Points are single readings, or means over a step of position. */
  readonly pointsAre: 'single readings' | 'bin means';
  readonly pass: PassName;
  readonly samples: number;
  /** Readings that got no place, because the position was unknown or too far apart in time. */
  readonly pairsRefused: number;
  /** Nothing more can be taken. */
  readonly isComplete: boolean;
  indicator(readingMm: number, atMs: number): void;
  readout(xMm: number, atMs: number): void;
  tick(nowMs: number): void;
  passes(): TakenPass[];
}
