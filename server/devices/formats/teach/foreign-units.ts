/** Units of length that a shape cannot be taught in; lower case, as they are compared. */
const OTHER_LENGTHS: ReadonlySet<string> = new Set(
  'um \u00b5m \u03bcm \u00c2\u00b5m \u00ce\u00bcm micron microns nm cm dm m mil mils thou tenths ft feet uin \u00b5in \u00c2\u00b5in'.split(
    ' ',
  ),
);
/** Of something that is no length. N, A, V and C name axes too, so they are asked about. */
const OTHER_THINGS: ReadonlySet<string> = new Set(
  'g mg kg lb lbs lbf lbm oz kn nm/m deg \u00b0 \u00c2\u00b0 % rpm psi bar mv ma hz kpa mpa'.split(
    ' ',
  ),
);

/** Whether this text, with a point or brackets around or not, is a unit of which no shape may be taught. */
export function isForeignUnit(text: string): boolean {
  const unit = plain(text);
  return OTHER_LENGTHS.has(unit) || OTHER_THINGS.has(unit);
}

/** What to do about it, in words. */
export function unitRefusal(text: string): string {
  const word = text.trim().replaceAll('\u00c2', '').slice(0, 12);
  return OTHER_LENGTHS.has(plain(text))
    ? `"${word}" beside the number is a unit that is not read here yet: set the device to mm or inches and take the lines again.`
    : `"${word}" beside the number is a unit of something that is no length: this line cannot be used.`;
}

function plain(text: string): string {
  return text.toLowerCase().replace(/^[\s,;:([]+|[\s.,;:)\]]+$/g, '');
}
