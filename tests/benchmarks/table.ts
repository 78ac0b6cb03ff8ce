import type { PartResult } from './row.ts';

/** One table over all parts, columns aligned, notes below the part they belong to. */
export function tableText(results: readonly PartResult[]): string {
  const rows = results.flatMap((result) => result.rows);
  const widthOf = (pick: (row: (typeof rows)[number]) => string) =>
    Math.max(0, ...rows.map((row) => pick(row).length));
  const widths = { what: widthOf((row) => row.what), value: widthOf((row) => row.value) };
  const lines: string[] = [];
  for (const { title, rows: own, notes } of results) {
    lines.push('', title);
    for (const { what, value, beside } of own) {
      lines.push(
        `  ${what.padEnd(widths.what)}  ${value.padStart(widths.value)}  ${beside}`.trimEnd(),
      );
    }
    for (const note of notes) lines.push(`  ${note}`);
  }
  return [...lines, ''].join('\n');
}
