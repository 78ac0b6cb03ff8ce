import { type Row, tell, whole } from '../row.ts';
import { sweptBytes } from '../swept-bytes.ts';
import { WholeWay } from '../whole-way.ts';

const LINES = 1_000_000;
const FIRST_AT = 10_000;
const PER_SECOND = 50_000;

/** Twice: what one collection finds unreachable may hold what only the next can free. */
function heapKb(): number {
  if (!globalThis.gc) throw new Error('run with --expose-gc');
  globalThis.gc();
  globalThis.gc();
  return process.memoryUsage().heapUsed / 1024;
}

const { gulps } = sweptBytes(LINES, PER_SECOND, 2);
const way = new WholeWay();
const seen: { readings: number; kb: number }[] = [];
for (const gulp of gulps) {
  way.push(gulp);
  const next = seen.length === 0 ? FIRST_AT : (LINES * seen.length) / 2;
  if (way.readings >= next) seen.push({ readings: way.readings, kb: heapKb() });
}
const first = seen[0]!;
const rows: Row[] = seen.map(({ readings, kb }) => ({
  what: `kB of heap after ${whole(readings)} readings`,
  value: whole(kb),
  beside: readings === first.readings ? '' : `${whole(kb - first.kb)} kB more than at first`,
}));
way.close();
tell({ title: 'Memory of one sweep that goes on and on', rows, notes: [] });
