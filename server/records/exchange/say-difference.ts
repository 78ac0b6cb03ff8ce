import type { Difference } from '../journal/recomputation.ts';

/** Characters of a figure that are shown; a number has at most 25. */
const MOST_SHOWN = 60;

/** The first place in which two values differ, as a path with both; null: they are equal. */
export function firstDifference(
  recorded: unknown,
  recomputed: unknown,
  path = '',
): { path: string; recorded: unknown; recomputed: unknown } | null {
  if (isTree(recorded) && isTree(recomputed)) {
    const names = new Set([...Object.keys(recorded), ...Object.keys(recomputed)]);
    for (const name of names) {
      const found = firstDifference(
        (recorded as Record<string, unknown>)[name],
        (recomputed as Record<string, unknown>)[name],
        `${path}/${name}`,
      );
      if (found) return found;
    }
    return null;
  }
  return Object.is(recorded, recomputed) ? null : { path, recorded, recomputed };
}

/** One difference as a sentence's end: `sweep ended/result/slope: recorded 0.1, now 0.2`. */
export function sayDifference({ recorded, recomputed }: Difference): string {
  if (!recorded) return `nothing recorded where "${recomputed?.entry}" comes out`;
  if (!recomputed) return `"${recorded.entry}" recorded where nothing comes out`;
  if (recorded.entry !== recomputed.entry)
    return `"${recorded.entry}" recorded where "${recomputed.entry}" comes out`;
  const first = firstDifference(recorded, recomputed);
  return first
    ? `${recorded.entry}${first.path}: recorded ${shown(first.recorded)}, now ${shown(first.recomputed)}`
    : `${recorded.entry} in another form`;
}

function isTree(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}

function shown(value: unknown): string {
  return (JSON.stringify(value) ?? 'nothing').slice(0, MOST_SHOWN);
}
