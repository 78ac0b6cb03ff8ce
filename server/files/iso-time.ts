/** ISO 8601 in UTC of milliseconds since 1970; null where no calendar has such a day. */
export function isoOf(epochMs: number): string | null {
  const date = new Date(epochMs);
  return Number.isNaN(date.getTime()) ? null : date.toISOString();
}
