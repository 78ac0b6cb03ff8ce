import type { LinkSource } from '@taptrue/protocol';
import {
  hostFromText,
  oneOfIn,
  pairsFromText,
  type Read,
  wholeNumberIn,
} from '../pairs-from-text.ts';

/** The port number that agents usually listen on. */
const USUAL_PORT = 5000;
const USUAL_EVERY_MS = 50;
const KEYS = ['way', 'every'];

export const MTCONNECT_TEXT =
  'mtconnect://HOST/X or mtconnect://HOST:5000/MACHINE/X (an axis or a data item), then ,way=stream or poll, every=50; mtconnects:// over https';

/** `mtconnect://host:5000/mill-1/X,way=poll,every=100`, without its scheme; `secure`: over https. Pure. */
export function mtconnectFromText(text: string, secure = false): Read<LinkSource> {
  const split = pairsFromText(text);
  if (split === null) return { ok: false, why: 'One of the words behind the commas comes twice' };
  const stray = [...split.pairs.keys()].find((key) => !KEYS.includes(key));
  if (stray !== undefined)
    return { ok: false, why: `${stray}= is not known; known are ${KEYS.join(', ')}` };
  const [host, ...steps] = split.name.split('/').filter(Boolean);
  const item = steps.pop();
  if (host === undefined || item === undefined || item.length > 100) {
    return {
      ok: false,
      why: 'Name the axis or the data item behind the host: mtconnect://host:5000/X',
    };
  }
  const path = steps.map((step) => `/${step}`).join('');
  if (path.length > 200)
    return { ok: false, why: 'The name of the machine has at most 200 characters' };
  const place = hostFromText(host, USUAL_PORT);
  const way = oneOfIn(split.pairs, 'way', 'stream', ['stream', 'poll']);
  const everyMs = wholeNumberIn(split.pairs, 'every', USUAL_EVERY_MS, 20, 10_000);
  if (!place.ok) return place;
  if (!way.ok) return way;
  if (!everyMs.ok) return everyMs;
  const over = secure ? { secure } : {};
  const source = { kind: 'mtconnect', ...place.value, ...over, path, item } as const;
  return { ok: true, value: { ...source, way: way.value, everyMs: everyMs.value } };
}
