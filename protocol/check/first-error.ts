import type Type from 'typebox';
import { Check, Errors } from 'typebox/value';

/** What is read of a schema here; whatever else it says is left to the library. */
interface Shape {
  anyOf?: readonly Shape[];
  const?: unknown;
  properties?: Readonly<Record<string, Shape>>;
  required?: readonly string[];
  additionalProperties?: unknown;
  items?: Shape;
}

/** The property that tells the members of a union apart, in the order they are looked for. */
const TELLING = ['kind', 'type', 'entry', 'act'];

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function fits(shape: Shape, value: unknown): boolean {
  return Check(shape as Type.TSchema, value);
}

function shown(value: unknown): string {
  return (JSON.stringify(value) ?? String(value)).slice(0, 60);
}

/** The member of a union that was meant, or why none was. */
function inUnion(union: readonly Shape[], value: unknown, path: string): string | null {
  const members = union.flatMap((member) => member.anyOf ?? [member]);
  if (members.every((member) => member.const !== undefined)) {
    return `${path || 'the message'} must be one of ${members.map(({ const: known }) => shown(known)).join(', ')}`;
  }
  const told = members.filter((member) => member.properties !== undefined);
  const key = TELLING.find((name) =>
    told.every((member) => member.properties?.[name]?.const !== undefined),
  );
  if (!isObject(value) || told.length === 0) return null;
  if (key === undefined) return told.length === 1 ? firstError(told[0]!, value, path) : null;
  const meant = told.find((member) => member.properties?.[key]?.const === value[key]);
  if (meant) return firstError(meant, value, path);
  return key in value
    ? `${path}/${key} ${shown(value[key])} is not known here`
    : `${path || 'the message'} says no ${key}`;
}

function inObject(shape: Shape, value: Record<string, unknown>, path: string): string | null {
  const properties = shape.properties ?? {};
  const missing = (shape.required ?? []).find((name) => !(name in value));
  if (missing !== undefined) return `${path || 'the message'} must have ${missing}`;
  if (shape.additionalProperties === false) {
    const extra = Object.keys(value).find((name) => !Object.hasOwn(properties, name));
    if (extra !== undefined) return `${path}/${extra} is not known here`;
  }
  for (const [name, member] of Object.entries(properties)) {
    if (name in value && !fits(member, value[name])) {
      return firstError(member, value[name], `${path}/${name}`);
    }
  }
  return null;
}

/** Of a list the first member that does not fit; null where it is the list itself, such as its length. */
function inList(items: Shape, list: readonly unknown[], path: string): string | null {
  const wrong = list.findIndex((member) => !fits(items, member));
  return wrong < 0 ? null : firstError(items, list[wrong], `${path}/${wrong}`);
}

/**
 * Why a value does not fit, with its place: `/change/displayUnit must be one of "mm", "in"`. The library alone
 * names the first member of a union, whichever was meant: an unknown command was told to have a `change`.
 */
export function firstError(shape: Shape, value: unknown, path = ''): string {
  const own = shape.anyOf
    ? inUnion(shape.anyOf, value, path)
    : shape.properties && isObject(value)
      ? inObject(shape, value, path)
      : shape.items && Array.isArray(value)
        ? inList(shape.items, value, path)
        : null;
  if (own !== null) return own;
  const [first] = Errors(shape as Type.TSchema, value);
  if (!first) return 'not understood';
  return `${path}${first.instancePath}${path || first.instancePath ? '' : 'the message'} ${first.message}`;
}
