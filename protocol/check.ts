import type Type from 'typebox';
import { Compile } from 'typebox/compile';

export type Checked<T> = { ok: true; value: T } | { ok: false; why: string };

/**
 * Makes the only kind of parser that text from outside goes through: JSON text or a value to a checked
 * message, or a reason that names the place.
 */
export function checkerOf<S extends Type.TSchema>(schema: S) {
  const compiled = Compile(schema);

  function check(value: unknown): Checked<Type.Static<S>> {
    if (compiled.Check(value)) return { ok: true, value: value as Type.Static<S> };
    const [first] = compiled.Errors(value);
    return {
      ok: false,
      why: first ? `${first.instancePath || 'the message'} ${first.message}` : 'not understood',
    };
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
