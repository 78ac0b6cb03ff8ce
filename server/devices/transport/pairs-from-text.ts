/** `,key=value,key=value` behind the name of a source: the name, and what each key says. */
export interface NamedPairs {
  name: string;
  pairs: ReadonlyMap<string, string>;
}

/**
 * Takes the pairs off the end of a text. Only pieces with an equals sign are pairs, so that a comma may stand
 * in the name of a port. Null where a key comes twice.
 */
export function pairsFromText(text: string): NamedPairs | null {
  const pieces = text.split(',');
  const pairs = new Map<string, string>();
  while (pieces.length > 1) {
    const match = /^\s*([a-z]+)\s*=\s*(.*?)\s*$/i.exec(pieces.at(-1)!);
    if (match === null) break;
    const key = match[1]!.toLowerCase();
    if (pairs.has(key)) return null;
    pairs.set(key, match[2]!);
    pieces.pop();
  }
  return { name: pieces.join(',').trim(), pairs };
}

/** What a text means, or why it means nothing. */
export type Read<T> = { ok: true; value: T } | { ok: false; why: string };

export function wholeNumberIn(
  pairs: ReadonlyMap<string, string>,
  key: string,
  usual: number,
  least: number,
  most: number,
): Read<number> {
  const text = pairs.get(key);
  if (text === undefined) return { ok: true, value: usual };
  const value = Number(text);
  return /^\d+$/.test(text) && value >= least && value <= most
    ? { ok: true, value }
    : { ok: false, why: `${key}=${text}: it takes a whole number from ${least} to ${most}` };
}

export function oneOfIn<T extends string>(
  pairs: ReadonlyMap<string, string>,
  key: string,
  usual: T,
  known: readonly T[],
): Read<T> {
  const text = pairs.get(key);
  if (text === undefined) return { ok: true, value: usual };
  const found = known.find((one) => one.toLowerCase() === text.toLowerCase());
  return found === undefined
    ? { ok: false, why: `${key}=${text}: it takes ${known.join(', ')}` }
    : { ok: true, value: found };
}

/** `host`, `host:port`, `[address]:port`. */
export function hostFromText(
  text: string,
  usualPort: number | null,
): Read<{ host: string; port: number }> {
  const match = /^(?:\[([0-9a-f:.%a-z]+)\]|([^\s:/[\],]+))(?::(\d{1,5}))?$/i.exec(text);
  const host = match?.[1] ?? match?.[2];
  const port = match?.[3] === undefined ? usualPort : Number(match[3]);
  if (host === undefined || host.length > 253 || port === null) {
    return { ok: false, why: `"${text}" is not host:port` };
  }
  return port < 1 || port > 65535
    ? { ok: false, why: `The port number is ${port}; it must be 1 to 65535` }
    : { ok: true, value: { host, port } };
}
