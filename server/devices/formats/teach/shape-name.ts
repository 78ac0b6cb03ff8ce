/** Longest name a shape may have. */
const LONGEST_NAME = 40;

/** A name for files and command lines, from the title: `Sign, digits, unit` is `sign-digits-unit`. */
export function shapeNameFrom(title: string): string {
  return title
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^[^a-z]+/, '')
    .slice(0, LONGEST_NAME)
    .replace(/-+$/, '');
}
