import type { Rises } from '@taptrue/protocol';

/**
 * Surface per reading: minus where the reading rises as the surface comes toward the operator. Where the
 * sense is not known the line is taken as "away"; the caller says so.
 */
export function surfacePerReading(rises: Rises | null, stylusFactor: number): number {
  return rises === 'toward' ? -stylusFactor : stylusFactor;
}

/** Height of the surface, mm, positive away from the operator, from what the dial shows. */
export function surfaceFromReading(readingMm: number, rises: Rises | null, factor: number): number {
  return readingMm * surfacePerReading(rises, factor);
}

/** What the dial shows for a height of the surface, mm. */
export function readingFromSurface(surfaceMm: number, rises: Rises | null, factor: number): number {
  return surfaceMm / surfacePerReading(rises, factor);
}
