import type { PointRule, ShapeField } from '@taptrue/protocol';
import { takeDigits } from './read-number.ts';
import { missing, newPart, sortedOnce, type Take, takeMapped, type Walk } from './walk.ts';

type TextKind = Exclude<ShapeField['kind'], 'count' | 'flags' | 'checksum'>;

/** How each field is taken off the text, by length and character. Each looks at no character twice. */
export const TAKE_TEXT: { [K in TextKind]: Take<K> } = {
  literal(field, walk) {
    if (walk.text.startsWith(field.text, walk.at)) walk.at += field.text.length;
    else if (field.optional !== true) return missing(`"${field.text}"`, walk);
    return null;
  },
  spaces(field, walk) {
    const from = walk.at;
    while (walk.text[walk.at] === ' ') walk.at += 1;
    return walk.at - from < field.atLeast ? missing('a space', walk) : null;
  },
  ignore(field, walk) {
    const { characters, upTo } = field;
    if (upTo === undefined) {
      if (walk.text.length - walk.at < characters) return missing(`${characters} more`, walk);
      walk.at += characters;
      return null;
    }
    const end = walk.text.slice(walk.at, walk.at + characters + 1).indexOf(upTo);
    if (end < 0) return missing(`"${upTo}" within ${characters}`, walk);
    walk.at += end;
    return null;
  },
  sign(field, walk) {
    const sign = takeMapped(field.map, walk);
    if (sign !== undefined) walk.part.sign = sign;
    else if (field.optional !== true) return missing('a sign', walk);
    return null;
  },
  digits(field, walk) {
    if (field.absent !== undefined && walk.text[walk.at] === field.absent) {
      while (walk.text[walk.at] === field.absent) walk.at += 1;
      walk.part.absent = true;
      return null;
    }
    const taken = takeDigits(walk.text, walk.at, field.point, field.atMost);
    if (taken.digits.length < field.atLeast) {
      return missing(`${field.atLeast} to ${field.atMost} digits`, walk);
    }
    const decimals = decimalsTaken(field.point, taken.decimals);
    if (typeof decimals === 'string') return missing(decimals, walk);
    walk.at = taken.nextAt;
    walk.part.digits =
      field.lowestFirst === true ? [...taken.digits].reverse().join('') : taken.digits;
    if (decimals !== null) walk.part.decimals = decimals;
    if (field.point.kind === 'given by unit') walk.part.byUnit = field.point;
    return null;
  },
  unit(field, walk) {
    const unit = takeMapped(field.map, walk);
    if (unit !== undefined) walk.part.unit = unit;
    else if (field.optional !== true) return missing('a unit', walk);
    return null;
  },
  'unit is'(field, walk) {
    walk.part.unit = field.unit;
    return null;
  },
  status(field, walk) {
    const status = takeMapped(field.map, walk);
    if (status !== undefined) walk.part.status = status;
    else if (field.optional !== true) return missing('a status word', walk);
    return null;
  },
  channel(field, walk) {
    const channel = sortedOnce(field.allowed, () => [...field.allowed]).find((tag) =>
      walk.text.startsWith(tag, walk.at),
    );
    if (channel === undefined) return field.optional === true ? null : missing('a channel', walk);
    walk.part.channel = channel;
    walk.at += channel.length;
    return null;
  },
  'channel is'(field, walk) {
    walk.part.channel = field.channel;
    return null;
  },
  counter(field, walk) {
    const from = walk.at;
    while (isDigit(walk, walk.at)) walk.at += 1;
    const length = walk.at - from;
    if (length >= field.atLeast && length <= field.atMost) return null;
    return missing(`a counter of ${field.atLeast} to ${field.atMost} digits`, walk);
  },
  point(field, walk) {
    const decimals = takeMapped(field.map, walk);
    if (decimals === undefined) return missing('a point position', walk);
    walk.part.decimals = decimals;
    return null;
  },
  'next axis'(_field, walk) {
    walk.part = newPart();
    walk.parts.push(walk.part);
    return null;
  },
};

/** Decimals as far as the digits themselves tell them; a text: what is missing. */
function decimalsTaken(point: PointRule, taken: number | null): number | null | string {
  if (point.kind !== 'written' || (taken ?? 0) >= 1) return taken;
  if (point.wholeWithout === true && taken === null) return 0;
  return `a decimal point "${point.mark}" with digits after it`;
}

function isDigit(walk: Walk, at: number): boolean {
  const code = walk.text.charCodeAt(at);
  return code >= 48 && code <= 57;
}
