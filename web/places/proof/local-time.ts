/** `25 Nov 2026, 14:03`, in the reader's own time; what is no time is shown as it is. */
export function whenText(iso: string): string {
  const at = new Date(iso);
  if (Number.isNaN(at.getTime())) return iso || 'no date';
  return at.toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
}

/** Midnight of a day typed into a date field, in the reader's own time, as UTC; undefined: no day. */
export function dayStart(day: string, plusDays = 0): string | undefined {
  const [year, month, date] = day.split('-').map(Number);
  if (!year || !month || !date) return undefined;
  const at = new Date(year, month - 1, date + plusDays);
  return Number.isNaN(at.getTime()) ? undefined : at.toISOString();
}
