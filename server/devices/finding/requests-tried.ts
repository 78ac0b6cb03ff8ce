import type { LineShape } from '@taptrue/protocol';

/**
 * What a device may be asked with, after the requests of the known shapes: single characters that are in
 * use for "send your reading" and change nothing in any device known to take them (common practice, no
 * source). Each is ended by CR LF, which serves devices that end a request at either, and those that act
 * at the letter. Left out on purpose: everything of more than one character, and every control character
 * but the line end, because there presets, resets and calibrations begin.
 */
export const HARMLESS_REQUESTS: readonly string[] = ['?\r\n', '\r\n', 'Q\r\n', 'A\r\n', '1\r\n'];

/**
 * Requests that the shapes define, each once, in the order of the table. One that begins another is left out:
 * who answers `R` answers `R` CR LF too.
 */
export function requestsOfShapes(shapes: readonly LineShape[]): string[] {
  const all = [...new Set(shapes.flatMap((shape) => shape.request?.text ?? []))];
  return all.filter((text) => !all.some((other) => other !== text && other.startsWith(text)));
}

/** The harmless ones that no shape defines. */
export function otherRequests(shapes: readonly LineShape[]): string[] {
  const known = new Set(requestsOfShapes(shapes));
  return HARMLESS_REQUESTS.filter((request) => !known.has(request));
}
