import type { FindSection, LinkSource, Parsed, PortRow } from '@taptrue/protocol';
import { linkConfigOf } from './link-source-text.ts';

/** What was chosen or typed as the source of a search; settings are what is looked for. */
export function findSourceOf(text: string): Parsed<LinkSource> {
  // Any shape does: only the source is taken.
  const config = linkConfigOf({ source: text, shape: 'any', unit: 'as sent', channel: '' });
  return config.ok ? { ok: true, value: config.value.source } : config;
}

/** The device of this bench that uses the chosen port, so that the button can say that it is closed first. */
export function userOf(text: string, ports: readonly PortRow[]): PortRow['usedBy'] {
  return ports.find((port) => port.path === text.trim())?.usedBy ?? null;
}

/** `about 9 s`; nothing where nobody knows. */
export function leftWords(secondsLeft: number | null): string {
  if (secondsLeft === null) return '';
  return secondsLeft <= 1 ? 'a moment more' : `at most ${secondsLeft} s more`;
}

const ENDED: readonly FindSection['state'][] = ['connected', 'nothing found', 'stopped'];

/** A search that holds its port now, on whatever screen it was begun. */
export function searchGoingOn(find: FindSection | null): FindSection | null {
  return find === null || ENDED.includes(find.state) ? null : find;
}
