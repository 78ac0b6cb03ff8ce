/** Where the stylus stands along the work, and where it is being taken. Millimetres. */
export interface TableState {
  fromMm: number;
  toMm: number;
  mmPerSecond: number;
  startedAtMs: number;
}

export function tableAtRest(xMm: number): TableState {
  return { fromMm: xMm, toMm: xMm, mmPerSecond: 1, startedAtMs: 0 };
}

export function tableMm(table: TableState, nowMs: number): number {
  const wayMm = table.toMm - table.fromMm;
  const goneMm = (Math.max(0, nowMs - table.startedAtMs) / 1000) * table.mmPerSecond;
  return goneMm >= Math.abs(wayMm) ? table.toMm : table.fromMm + Math.sign(wayMm) * goneMm;
}

export function isTraversing(table: TableState, nowMs: number): boolean {
  return tableMm(table, nowMs) !== table.toMm;
}

export function traverse(
  table: TableState,
  toMm: number,
  mmPerSecond: number,
  nowMs: number,
): TableState {
  return { fromMm: tableMm(table, nowMs), toMm, mmPerSecond, startedAtMs: nowMs };
}
