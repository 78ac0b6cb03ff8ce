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
 * Decimals that a hand types at most by a rule that is finer than a length: twentieths of a thou are 0.05, tenths
 * of a micron 0.1, quarters of a division 0.25 (common practice, no source). More is a length, 1000 times as much.
 */
function mostDecimals(keyedAs: KeyedAs): number {
  if (keyedAs.kind === 'length') return Number.POSITIVE_INFINITY;
  return keyedAs.kind === 'thousandths' && keyedAs.unit === 'mm' ? 1 : 2;
}

/** Digits after the decimal mark of a typed number. */
export function typedDecimals(text: string): number {
  return /[.,](\d*)/.exec(text)?.[1]?.length ?? 0;
}

/** Length of one unit of a typed number by this rule, mm. */
function unitOfRuleMm(keyedAs: KeyedAs): number {
  switch (keyedAs.kind) {
    case 'length':
      return toMm(1, keyedAs.unit);
    case 'thousandths':
      return toMm(1, keyedAs.unit) / 1000;
    case 'divisions':
      return keyedAs.graduationMm;
  }
}

/** `digitMm` is one step of the last digit typed: the resolution it was read with, as far as it shows. */
export interface GoodKeyed {
  ok: true;
  readingMm: number;
  digitMm: number;
}

export type KeyedReading = GoodKeyed | { ok: false; fault: Fault };

/**
 * A reading as it was typed, in millimetres as the dial shows them. A unit may be written behind a length
 * and then wins over the rule; with thousandths or divisions it is refused, because `3 mm` of a
 * thousandths rule has two meanings.
 */
export function readKeyed(text: string, keyedAs: KeyedAs): KeyedReading {
  const typed = text.trim();
  const number = parseNumber(typed);
  const digit = 10 ** -typedDecimals(typed);
  if (number.ok) {
    const fault = tooFine(typed, keyedAs);
    if (fault) return { ok: false, fault };
    const unitMm = unitOfRuleMm(keyedAs);
    return { ok: true, readingMm: number.value * unitMm, digitMm: digit * unitMm };
  }
  if (keyedAs.kind === 'length') {
    const length = parseLengthMm(typed);
    const oneMm = parseLengthMm(typed.replace(/^[-+−]?[\d.,]+/, '1'));
    if (length.ok && oneMm.ok) {
      return { ok: true, readingMm: length.value, digitMm: digit * oneMm.value };
    }
  }
  return {
    ok: false,
    fault: notRead(typed, `Type it as ${example(keyedAs)}, with one decimal mark at most.`),
  };
}

/** @param how what it should have been, one sentence. */
export function notRead(typed: string, how: string): Fault {
  return {
    code: 'keyed-not-read',
    what: 'The typed reading could not be read as a number.',
    got: typed,
    remedy: `${how} Nothing was taken.`,
  };
}

/** `0.1250` typed where thousandths are: a length, most likely. */
function tooFine(typed: string, keyedAs: KeyedAs): Fault | null {
  if (typedDecimals(typed) <= mostDecimals(keyedAs)) return null;
  return {
    code: 'keyed-too-fine',
    what: `It is read as ${ruleWords(keyedAs)}, and those are never typed so fine: most likely it is a length, which would be taken far too small. Nothing was taken.`,
    got: typed,
    remedy: `Type it as ${example(keyedAs)}, or set typed readings to inches or millimetres. If a lead typed it, say so, and in which unit its display shows.`,
  };
}

function ruleWords(keyedAs: KeyedAs): string {
  if (keyedAs.kind === 'divisions') return 'divisions of the dial';
  return keyedAs.unit === 'in' ? 'thousandths of an inch' : 'microns';
}
