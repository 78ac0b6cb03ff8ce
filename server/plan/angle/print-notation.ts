/** Signs that stand for a degree on prints and keyboards: ring above, ordinal, ring operator, superscript nought. */
const DEGREES = /[\u00ba\u02da\u2218\u2070]/g;
/** Two strokes: double prime and its stand-ins, two single ones included. */
const SECONDS =
  /[\u2033\u201d\u201c\u02ba\u02dd\uff02\u3003]|['\u2032\u2019\u2018\u02b9\u00b4\uff07]{2}/g;
/** One stroke: prime and its stand-ins. */
const MINUTES = /[\u2032\u2019\u2018\u02b9\u00b4\u0060\uff07]/g;
const SPACES = /[\u00a0\u2007\u2009\u200a\u202f]/g;
const VULGAR: Readonly<Record<string, string>> = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/** The signs of a print in one spelling: `°`, `'`, `"`, plain spaces, `1/2` for ½. Nothing is read here. */
export function plainNotation(text: string): string {
  return text
    .replace(SECONDS, '"')
    .replace(MINUTES, "'")
    .replace(DEGREES, '°')
    .replace(SPACES, ' ')
    .replace(/[¼½¾⅛⅜⅝⅞]/g, (sign, at: number, whole: string) =>
      /\d/.test(whole[at - 1] ?? '') ? ` ${VULGAR[sign]}` : VULGAR[sign]!,
    )
    .replace(/(\d)\s*[\u2044\u2215]\s*(\d)/g, '$1/$2')
    .trim();
}

/** Three digits behind a comma, one to three before it and not only noughts: a thousand, or a decimal. */
const COULD_BE_THOUSANDS = /(?<![\d.,])[1-9]\d{0,2},\d{3}(?![\d.,])/;

/**
 * A comma read as the decimal mark, the same wherever a number is typed. null: it could part thousands, or there
 * is more than one in a number, or a point besides; then it is asked about.
 */
export function withDecimalPoint(text: string, mayBeThousands: boolean): string | null {
  if (!text.includes(',')) return text;
  if (/\d*,\d*[.,]\d|\d\.\d*,/.test(text)) return null;
  if (mayBeThousands && COULD_BE_THOUSANDS.test(text)) return null;
  return text.replace(/,(?=\d)/g, '.').includes(',') ? null : text.replace(/,(?=\d)/g, '.');
}
