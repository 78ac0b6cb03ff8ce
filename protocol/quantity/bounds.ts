import Type from 'typebox';

/*
 * What a number of a bench can be at all. Wide enough for the longest bed and the finest probe of common practice
 * (no source), narrow enough that no product or square of them leaves the range of a double: beyond them a
 * number is a slip or an attack, and a verdict made from it would be nonsense.
 */

/** The longest machine bed a table readout counts along, mm, with room for a readout zeroed elsewhere. */
export const FARTHEST_MM = 100_000;
/** A hundredth of a nanometre is finer than anything that can be read or set, mm. */
export const LEAST_MM = 1e-8;
/** A tenth of a second of arc is 5e-7 rad; nothing on a machine is set finer than a hundred-thousandth of it. */
export const LEAST_RAD = 1e-11;
/** A limit of a quarter turn limits nothing. */
export const MOST_LIMIT_RAD = Math.PI / 2;
/** A stylus at 84 degrees gives 0.1; an indicator reads neither ten times too much nor less than a tenth. */
export const LEAST_FACTOR = 0.05;
export const MOST_FACTOR = 20;
/** No indicator shows more than this either way, mm: it bounds error, resolution and what is keyed. */
export const MOST_INDICATED_MM = 1000;
/** An index table's fastest rapid is 60 m/min. */
export const MOST_FEED_MM_PER_MIN = 100_000;

/** A place along the work or a readout's count, either way from zero, mm. */
export const placeMm = (description?: string) =>
  Type.Number({ minimum: -FARTHEST_MM, maximum: FARTHEST_MM, ...(description && { description }) });

/** A length that is there, mm. */
export const lengthMm = (mostMm = FARTHEST_MM) =>
  Type.Number({ minimum: LEAST_MM, maximum: mostMm });

/** An error or a scatter, which may be none, mm. */
export const errorMm = () => Type.Number({ minimum: 0, maximum: MOST_INDICATED_MM });
