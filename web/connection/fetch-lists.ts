import { checkerOf } from '@taptrue/protocol';
import Type from 'typebox';
import { ANSWER_TIMEOUT_MS } from './post-command.ts';

/** One line shape the service knows: what to call it and how its devices are made to send. */
export const ShapeChoice = Type.Object({
  name: Type.String(),
  title: Type.String(),
  trigger: Type.String(),
  port: Type.Unknown(),
  example: Type.Optional(Type.String()),
  own: Type.Optional(Type.Boolean({ description: 'One of the shop, not one that ships' })),
});
export type ShapeChoice = Type.Static<typeof ShapeChoice>;

const shapes = checkerOf(Type.Array(ShapeChoice));

export type Fetched<T> = { ok: true; value: T } | { ok: false; why: string };

async function fetchChecked<T>(
  url: string,
  parse: (text: string) => Fetched<T>,
): Promise<Fetched<T>> {
  try {
    const response = await fetch(url, { signal: AbortSignal.timeout(ANSWER_TIMEOUT_MS) });
    if (!response.ok) return { ok: false, why: `the service answered ${response.status}` };
    return parse(await response.text());
  } catch {
    return { ok: false, why: 'the service could not be reached' };
  }
}

export function fetchShapes(origin = ''): Promise<Fetched<ShapeChoice[]>> {
  return fetchChecked(`${origin}/api/shapes`, shapes.parse);
}
