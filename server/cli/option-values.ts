import { type Parsed, parseAngleRad, parseLengthMm } from '@taptrue/protocol';
import { Refusal } from './command.ts';

/** Nothing on a machine is farther, mm. */
const FARTHEST_MM = 100_000;

/** The one file of a command; `usage` is what to write. */
export function oneFile(positionals: readonly string[], usage: string): string {
  const [file, ...more] = positionals;
  if (file === undefined) throw new Refusal(`Which file? Write ${usage}, or - for standard input.`);
  if (more.length > 0) throw new Refusal(`One file at a time. Got: ${positionals.join(', ')}.`);
  return file;
}

function parsed<T>(name: string, text: string, parse: (text: string) => Parsed<T>): T {
  const value = parse(text);
  if (!value.ok) throw new Refusal(`--${name}: ${value.why}.`);
  return value.value;
}

/** A length as it was given, mm; null: it was not. */
export function lengthMm(name: string, text: string | undefined): number | null {
  if (text === undefined) return null;
  const mm = parsed(name, text, parseLengthMm);
  if (Math.abs(mm) > FARTHEST_MM) throw new Refusal(`--${name}: ${text} is farther than 100 m.`);
  return mm;
}

/** A length that is more than nothing, mm; null: it was not given. */
export function sizeMm(name: string, text: string | undefined): number | null {
  const mm = lengthMm(name, text);
  if (mm !== null && !(mm > 0)) throw new Refusal(`--${name}: ${text} must be more than nothing.`);
  return mm;
}

/** An angle with its unit, radians; a bare number is degrees where `bareIsDegrees`. */
export function angleRad(
  name: string,
  text: string | undefined,
  bareIsDegrees = false,
): number | null {
  if (text === undefined) return null;
  const isBare = /^[+\-−]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text.trim());
  return parsed(name, bareIsDegrees && isBare ? `${text.trim()}deg` : text, parseAngleRad);
}

/** One of a few words; null: it was not given. */
export function oneOf<T extends string>(
  name: string,
  text: string | undefined,
  known: readonly T[],
): T | null {
  if (text === undefined) return null;
  const found = known.find((choice) => choice === text.toLowerCase());
  if (found) return found;
  throw new Refusal(`--${name}: "${text}" is not known here. Write ${known.join(' or ')}.`);
}
