import type { LengthUnit, LineShape, ReadingStatus, ShapeField } from '@taptrue/protocol';

/** What a device has to say, before it is put into bytes. */
export interface Utterance {
  /** Number on the display, in `unit`; null where there is none (over range, error). */
  value: number | null;
  unit: LengthUnit;
  /** Digits after the point that the display shows. */
  decimals: number;
  status: ReadingStatus;
  /** Channel or axis tag; null: the first the shape allows. */
  channel: string | null;
  /** Running number of the reading, for shapes that carry one. */
  counter: number;
  /** Leave out every part that the shape allows to be left out. */
  terse: boolean;
}

export type Spoken = { ok: true; bytes: Uint8Array } | { ok: false; why: string };

class Unsayable extends Error {}

type Fields = { [K in ShapeField['kind']]: Extract<ShapeField, { kind: K }> };

function keyFor<T>(map: Readonly<Record<string, T>>, wanted: T): string | undefined {
  return Object.keys(map).find((key) => map[key] === wanted);
}

function mustHave(key: string | undefined, what: string): string {
  if (key === undefined) throw new Unsayable(`the shape has no way to say ${what}`);
  return key;
}

/** The most decimals the shape can show that are no more than the device shows. */
function decimalsSaid(shape: LineShape, decimals: number): number {
  for (const field of shape.fields) {
    if (field.kind === 'point') {
      const offered = Object.values(field.map).sort((a, b) => a - b);
      return offered.filter((count) => count <= decimals).at(-1) ?? offered[0] ?? decimals;
    }
    if (field.kind === 'digits' && field.point.kind === 'implied') return field.point.decimals;
    // A point that is written has a digit after it.
    if (field.kind === 'digits' && field.point.kind === 'written') return Math.max(1, decimals);
  }
  return decimals;
}

function digitsText(field: Fields['digits'], value: number | null, decimals: number): string {
  // A device without a number fills its digits with nines: nothing there can be taken for a measurement.
  const plain =
    value === null
      ? '9'.repeat(Math.min(Math.max(field.atLeast, decimals + 1), field.atMost))
      : Math.abs(value).toFixed(decimals).replace('.', '');
  const digits = plain.padStart(field.atLeast, '0');
  if (digits.length > field.atMost) {
    throw new Unsayable(`${value} takes ${digits.length} digits, the shape has ${field.atMost}`);
  }
  if (field.point.kind !== 'written') return digits;
  const whole = digits.length - decimals;
  if (whole < 0) throw new Unsayable(`${decimals} decimals do not go into ${digits.length} digits`);
  return `${digits.slice(0, whole)}${field.point.mark}${digits.slice(whole)}`;
}

function signText(field: Fields['sign'], negative: boolean, terse: boolean): string {
  if (!negative && field.optional && terse) return '';
  const key = keyFor(field.map, negative ? -1 : 1);
  if (key === undefined && !negative && field.optional) return '';
  return mustHave(key, negative ? 'minus' : 'plus');
}

function channelText(field: Fields['channel'], said: Utterance): string {
  if (field.optional && said.terse && said.channel === null) return '';
  const tag = said.channel ?? field.allowed[0];
  return mustHave(tag !== undefined && field.allowed.includes(tag) ? tag : undefined, `${tag}`);
}

function statusText(field: Fields['status'], said: Utterance): string {
  const usual = said.status === 'ok';
  const key = keyFor(field.map, said.status);
  if (usual && field.optional && (said.terse || key === undefined)) return '';
  return mustHave(key, said.status);
}

function pieceText(
  field: ShapeField,
  said: Utterance,
  number: { negative: boolean; decimals: number },
): string {
  switch (field.kind) {
    case 'literal':
      return field.optional && said.terse ? '' : field.text;
    case 'spaces':
      return ' '.repeat(field.atLeast);
    case 'sign':
      return signText(field, number.negative, said.terse);
    case 'digits':
      return digitsText(field, said.value, number.decimals);
    case 'unit':
      return field.optional && said.terse ? '' : mustHave(keyFor(field.map, said.unit), said.unit);
    case 'status':
      return statusText(field, said);
    case 'channel':
      return channelText(field, said);
    case 'counter':
      return String(said.counter % 10 ** field.atMost).padStart(field.atLeast, '0');
    case 'point':
      return mustHave(keyFor(field.map, number.decimals), `${number.decimals} decimals`);
  }
}

/** Brings a frame of fixed length up to it: spaces first, where the shape has any, else leading zeros. */
function padded(fields: readonly ShapeField[], pieces: string[], wanted: number): string {
  const short = wanted - pieces.join('').length;
  if (short < 0) throw new Unsayable(`the frame is ${-short} characters longer than its shape`);
  if (short === 0) return pieces.join('');
  const spaces = fields.findIndex((field) => field.kind === 'spaces');
  const at = spaces >= 0 ? spaces : fields.findIndex((field) => field.kind === 'digits');
  const field = fields[at];
  const piece = pieces[at];
  if (field === undefined || piece === undefined) {
    throw new Unsayable(`the frame is ${short} characters shorter than its shape`);
  }
  const longer = piece.padStart(piece.length + short, field.kind === 'spaces' ? ' ' : '0');
  if (field.kind === 'digits' && longer.replace(/\D/g, '').length > field.atMost) {
    throw new Unsayable(`the frame is ${short} characters shorter than its shape`);
  }
  return pieces.map((text, index) => (index === at ? longer : text)).join('');
}

function specialText(shape: LineShape, said: Utterance): string | undefined {
  if (said.status === 'ok' && said.value !== null) return undefined;
  return shape.specials.find(
    (special) =>
      special.status === said.status &&
      (said.channel === null || special.channel === undefined || special.channel === said.channel),
  )?.text;
}

function bodyText(shape: LineShape, said: Utterance): string {
  const special = specialText(shape, said);
  if (special !== undefined) return special;
  const saysStatus = shape.fields.some((field) => field.kind === 'status');
  if (said.status !== 'ok' && !saysStatus) mustHave(undefined, said.status);
  if (said.value === null && said.status === 'ok') mustHave(undefined, 'that there is no number');
  const decimals = decimalsSaid(shape, said.decimals);
  // Rounded first: what rounds to zero is said with the sign of zero, plus.
  const negative = said.value !== null && Number(said.value.toFixed(decimals)) < 0;
  const pieces = shape.fields.map((field) => pieceText(field, said, { negative, decimals }));
  const { fixedBytes } = shape.framing;
  return fixedBytes === undefined ? pieces.join('') : padded(shape.fields, pieces, fixedBytes);
}

/**
 * A reading as the bytes a device of this shape sends (Latin-1), or why this shape cannot say it. The
 * inverse of decoding, by the declared fields alone.
 */
export function speak(shape: LineShape, said: Utterance): Spoken {
  try {
    const { start = '', terminator, longestBytes } = shape.framing;
    const body = bodyText(shape, said);
    if (body.length > longestBytes) {
      throw new Unsayable(`the frame has ${body.length} characters, at most ${longestBytes} go`);
    }
    const end = terminator === 'any newline' ? '\r\n' : terminator;
    return { ok: true, bytes: Buffer.from(`${start}${body}${end}`, 'latin1') };
  } catch (error) {
    if (error instanceof Unsayable) return { ok: false, why: error.message };
    throw error;
  }
}

/** True if a device of this shape can tell that it has no usable number for this reason. */
export function canSay(shape: LineShape, status: ReadingStatus): boolean {
  return (
    shape.specials.some((special) => special.status === status) ||
    shape.fields.some((field) => field.kind === 'status' && keyFor(field.map, status) !== undefined)
  );
}
