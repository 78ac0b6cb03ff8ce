import { type Fault, type KeyedAs, parseLengthMm, parseNumber, toMm } from '@taptrue/protocol';

/** What the typing rule expects, in the words of the capture box. */
function example(keyedAs: KeyedAs): string {
  switch (keyedAs.kind) {
    case 'length':
      return keyedAs.unit === 'in' ? '0.0015 or ,0015' : '0.038 or ,038';
    case 'thousandths':
      return keyedAs.unit === 'in' ? '1.5 for 0.0015 in' : '38 for 0.038 mm';
    case 'divisions':
      return '+3 for three divisions';
  }
}

/**
 * A reading as it was typed, in millimetres as the dial shows them. A unit may be written behind a length
 * and then wins over the rule; with thousandths or divisions it is refused, because `3 mm` of a
 * thousandths rule has two meanings.
 */
export function readKeyed(
  text: string,
  keyedAs: KeyedAs,
): { ok: true; readingMm: number } | { ok: false; fault: Fault } {
  const typed = text.trim();
  const number = parseNumber(typed);
  if (number.ok) {
    switch (keyedAs.kind) {
      case 'length':
        return { ok: true, readingMm: toMm(number.value, keyedAs.unit) };
      case 'thousandths':
        return { ok: true, readingMm: toMm(number.value / 1000, keyedAs.unit) };
      case 'divisions':
        return { ok: true, readingMm: number.value * keyedAs.graduationMm };
    }
  }
  if (keyedAs.kind === 'length') {
    const length = parseLengthMm(typed);
    if (length.ok) return { ok: true, readingMm: length.value };
  }
  return {
    ok: false,
    fault: {
      code: 'keyed-not-read',
      what: 'The typed reading could not be read as a number.',
      got: typed,
      remedy: `Type it as ${example(keyedAs)}, with one decimal mark at most. Nothing was taken.`,
    },
  };
}
