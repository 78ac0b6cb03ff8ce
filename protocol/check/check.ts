import type Type from 'typebox';
import { Compile } from 'typebox/compile';
import { Check } from 'typebox/value';
import { firstError } from './first-error.ts';

export type Checked<T> = { ok: true; value: T } | { ok: false; why: string };

/**
 * Under a content policy a page may not make code from text, and only asking whether it may is already
 * reported as an error: pages check without compiling.
 */
const MAY_COMPILE = typeof document === 'undefined';

/**
 * Makes the only kind of parser that text from outside goes through: JSON text or a value to a checked
 * message, or a reason that names the place.
 */
export function checkerOf<S extends Type.TSchema>(schema: S) {
  const compiled = MAY_COMPILE
    ? Compile(schema)
    : { Check: (value: unknown) => Check(schema, value) };

  function check(value: unknown): Checked<Type.Static<S>> {
    if (compiled.Check(value)) return { ok: true, value: value as Type.Static<S> };
    return { ok: false, why: firstError(schema, value) };
  }

  function parse(text: string): Checked<Type.Static<S>> {
    let value: unknown;
    try {
      value = JSON.parse(text);
    } catch {
      return { ok: false, why: 'not JSON' };
    }
    return check(value);
  }

  return { check, parse };
}
