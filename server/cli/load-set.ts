import type { BlockSet } from '@taptrue/protocol';
import { findSet } from '../plan/plan-parts.ts';
import { readSet } from '../plan/sets/read-set.ts';
import { STANDARD_SETS } from '../plan/sets/standard-sets.ts';
import { Refusal } from './command.ts';
import { planned } from './plan-refusal.ts';
import { readText } from './read-text.ts';

/** A shipped set by its id, or a set of the user's own from a JSON file (a name with a dot or a slash). */
export async function loadSet(name: string | undefined): Promise<BlockSet> {
  if (name === undefined) {
    throw new Refusal(
      `--set is missing. Give a set: ${STANDARD_SETS.map((set) => set.id).join(', ')}, or a JSON file.`,
    );
  }
  if (/[./\\]/.test(name)) return planned(readSet(await readText(name)));
  return planned(findSet(STANDARD_SETS, name));
}

/** `0.128,0.101` as a list; empty pieces are refused with the option's name. */
export function listOf(option: string, text: string | undefined): string[] {
  if (text === undefined) return [];
  const parts = text.split(',').map((part) => part.trim());
  if (parts.some((part) => part === '')) {
    throw new Refusal(
      `--${option}: "${text}" has an empty place. Write sizes with commas between: 0.128,0.101.`,
    );
  }
  return parts;
}
