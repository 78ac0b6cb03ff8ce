import type { LengthUnit, ReadingStatus, SpanMeaning } from '@taptrue/protocol';

/** Units as they are met on lines; a number code means nothing until it is told. */
const UNITS: Readonly<Record<string, LengthUnit>> = {
  mm: 'mm',
  millimeter: 'mm',
  millimetre: 'mm',
  in: 'in',
  inch: 'in',
  '"': 'in',
  "''": 'in',
};

const STATUSES: Readonly<Record<string, ReadingStatus>> = {
  nrm: 'ok',
  nor: 'ok',
  norm: 'ok',
  normal: 'ok',
  ok: 'ok',
  min: 'peak mode',
  max: 'peak mode',
  rng: 'peak mode',
  tir: 'peak mode',
  hld: 'hold',
  hold: 'hold',
  bat: 'low battery',
  batt: 'low battery',
  lowbat: 'low battery',
  ovr: 'over range',
  over: 'over range',
  ofl: 'over range',
  err: 'error',
  error: 'error',
};

const SIGNS: Readonly<Record<string, 1 | -1>> = { '+': 1, '-': -1, ' ': 1 };

/** Letters that name an axis. */
const AXES = ['X', 'Y', 'Z', 'W', 'A', 'B', 'C', 'U', 'V'] as const;

/** A letter that names an axis, in either case. */
export function isAxisName(text: string): boolean {
  return AXES.some((axis) => axis === text.toUpperCase());
}

const own = <T>(map: Readonly<Record<string, T>>, key: string): T | null =>
  Object.hasOwn(map, key) ? (map[key] ?? null) : null;

/** What a text stands for where it is plain from the text; null: must be told. */
export function knownMeaning(span: SpanMeaning, text: string): string | null {
  const plain = text.trim().toLowerCase();
  switch (span) {
    case 'unit':
      return own(UNITS, plain);
    case 'status':
      return own(STATUSES, plain);
    case 'sign': {
      const sign = own(SIGNS, text);
      return sign === null ? null : sign === 1 ? 'plus' : 'minus';
    }
    case 'point':
      return /^[0-9]$/.test(text) ? text : null;
    default:
      return text;
  }
}

/** Channels that the same device may well have beside the ones that were seen. */
export function likeChannels(seen: readonly string[]): string[] {
  const all = new Set(seen);
  for (const tag of seen) {
    const axis = isAxisName(tag);
    if (axis)
      for (const name of AXES) all.add(tag === tag.toUpperCase() ? name : name.toLowerCase());
    if (/^[0-9]$/.test(tag)) for (let number = 0; number <= 9; number += 1) all.add(String(number));
    if (/^[0-9]{2}$/.test(tag)) {
      for (let number = 1; number <= 16; number += 1) all.add(String(number).padStart(2, '0'));
    }
    const lettered = /^([0-9]{2})([A-D])$/.exec(tag);
    if (lettered) {
      for (let number = 1; number <= 8; number += 1) {
        for (const letter of 'ABCD') all.add(`${String(number).padStart(2, '0')}${letter}`);
      }
    }
  }
  return [...all].slice(0, 64);
}
