import Type from 'typebox';

/** Longest name or initials of who wrote something. */
export const MOST_NAME = 60;
/** Longest note: half a page; whoever needs more has a file to name. */
export const MOST_NOTE = 2000;

/** A word to find jobs by: short, in small letters, without what would cut it in an address. */
export const TagText = Type.String({ pattern: '^[^\\s,;/&?#][^,;/&?#\\n]{0,39}$' });
