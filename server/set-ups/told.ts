import {
  type Fault,
  formatLength,
  type LengthUnit,
  parseAngleRad,
  parseLengthMm,
  parseNumber,
  type SetUpAsk,
  type SetUpBrief,
  toMm,
} from '@taptrue/protocol';
import type { SetUp } from './set-up.ts';

/** What was told of a set-up, as typed, by the name of what was asked. */
export type Told = Readonly<Record<string, string>>;

type Kind = 'size' | 'length' | 'angle' | 'spread' | 'number' | readonly string[];

/** How each answer is read. A size is more than nothing, a spread not below it. */
const KINDS: Readonly<Record<string, Kind>> = {
  diameter: 'size',
  limit: 'size',
  'foot-spacing': 'size',
  'from-headstock': 'size',
  'taper-per-foot': 'length',
  'target-slope': 'number',
  'half-angle': 'angle',
  'set-angle': 'angle',
  'wanted-angle': 'angle',
  'jaw-one': 'angle',
  'set-uncertainty': 'spread',
  tolerance: 'spread',
  face: ['bore', 'boss'],
  turns: ['spindle', 'work'],
  stack: ['left', 'right'],
  rises: ['toward', 'away'],
};

/** Pivot and mallet are the vise's own business, and turning round is a button. */
const ASKED_ELSEWHERE = ['pivot', 'mallet', 'turned'];

/** Everything a set-up asks on a screen, what is needed first. */
export function asksOf(row: SetUp): SetUpAsk[] {
  const ask = (name: string, needed: boolean, words: string): SetUpAsk => {
    const kind = KINDS[name];
    return { name, needed, words, choices: typeof kind === 'object' ? [...kind] : [] };
  };
  const isPart = row.reports.includes('part angle');
  const all = [
    ...(row.fit === 'circle' ? [ask('diameter', true, 'across the circle that was swept')] : []),
    ...row.asks
      .filter(({ option }) => !ASKED_ELSEWHERE.includes(option))
      .map(({ option, needed, words }) => ask(option, needed, words)),
    ask('rises', false, 'the reading rises as the face comes toward the indicator, or goes away'),
    isPart
      ? ask('tolerance', false, 'of the print, either way')
      : ask('limit', false, row.fit === 'circle' ? 'of the needle in a turn' : 'end to end'),
  ];
  return [...all.filter(({ needed }) => needed), ...all.filter(({ needed }) => !needed)];
}

/** May be read a second time with the tool turned end for end. */
export function isTurned(row: SetUp): boolean {
  return row.asks.some(({ option }) => option === 'turned');
}

/** One set-up as a screen offers it. */
export function briefOf(row: SetUp, unit: LengthUnit): SetUpBrief {
  const { mm, overMm, source } = row.usualLimit;
  const lengthOf = (one: number) => formatLength(one, unit);
  return {
    name: row.name,
    title: row.title,
    picture: row.picture,
    fit: row.fit,
    swept: row.swept,
    travel: row.travel,
    axes: row.fit === 'line' ? [...row.axes] : [],
    planes: row.fit === 'line' ? row.planes.map(({ name }) => name) : [],
    asks: asksOf(row),
    limitWords: `usual limit ${lengthOf(mm)}${overMm === null ? '' : ` over ${lengthOf(overMm)}`} (${source})`,
    cautions: [...row.cautions],
    isTurned: isTurned(row),
  };
}

export type ReadTold = { ok: true; value: number | string | null } | { ok: false; fault: Fault };

const notRead = (got: string, what: string, remedy: string): ReadTold => ({
  ok: false,
  fault: { code: 'set-up-answer-not-read', what, got, remedy },
});

/**
 * One answer: mm, radians, a number or a word; null where nothing was said. A bare length is in the unit of
 * the screen, a bare angle in degrees.
 */
export function readTold(name: string, text: string, unit: LengthUnit): ReadTold {
  const typed = text.trim();
  if (typed === '') return { ok: true, value: null };
  const kind = KINDS[name];
  if (kind === undefined) return notRead(name, 'Nobody asked this.', 'Leave it out.');
  if (typeof kind === 'object') {
    const word = kind.find((choice) => choice === typed.toLowerCase());
    if (word !== undefined) return { ok: true, value: word };
    return notRead(typed, `${name}: this is not one of the words.`, `Say ${kind.join(' or ')}.`);
  }
  const bare = parseNumber(typed);
  const value =
    kind === 'number'
      ? bare
      : kind === 'size' || kind === 'length'
        ? bare.ok
          ? { ok: true as const, value: toMm(bare.value, unit) }
          : parseLengthMm(typed)
        : parseAngleRad(bare.ok ? `${typed}deg` : typed);
  if (!value.ok) return notRead(typed, `${name} could not be read.`, `Type it anew: ${value.why}.`);
  if ((kind === 'size' && !(value.value > 0)) || (kind === 'spread' && value.value < 0)) {
    return notRead(typed, `${name} is a size and cannot be this.`, 'Type it without a minus.');
  }
  return value;
}

/** Reads answers that were read before: each is understood. */
export class Answers {
  readonly #told: Told;
  readonly #unit: LengthUnit;

  constructor(told: Told, unit: LengthUnit) {
    this.#told = told;
    this.#unit = unit;
  }

  number(name: string): number | null {
    const value = this.#value(name);
    return typeof value === 'number' ? value : null;
  }

  word<W extends string>(name: string, words: readonly W[]): W | null {
    const value = this.#value(name);
    return words.find((word) => word === value) ?? null;
  }

  #value(name: string): number | string | null {
    const read = readTold(name, this.#told[name] ?? '', this.#unit);
    return read.ok ? read.value : null;
  }
}
