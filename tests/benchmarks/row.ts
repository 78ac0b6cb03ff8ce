/** One line of the printed table. */
export interface Row {
  what: string;
  value: string;
  /** What was hoped for, or what stands beside it in the same run; empty: nothing to hold it against. */
  beside: string;
}

/** What one part of the bench found, or why it could not run here. */
export interface PartResult {
  title: string;
  rows: Row[];
  notes: string[];
}

/** Tells the process that prints the table. */
export function tell(result: PartResult): void {
  if (process.send) process.send(result);
  else console.log(JSON.stringify(result, null, 1));
}

export function whole(value: number): string {
  return Math.round(value).toLocaleString('en');
}

export function ratio(of: number, to: number): string {
  const times = of / to;
  return `${times < 10 ? times.toFixed(2) : times.toFixed(0)}x`;
}
