import { loadSetUps } from '../records/set-ups/load-set-ups.ts';
import type { CircleSetUp, LineSetUp, SetUp } from '../set-ups/set-up.ts';
import { Refusal } from './command.ts';

async function named(name: string): Promise<SetUp> {
  const rows = await loadSetUps();
  const found = rows.find((row) => row.name === name.toLowerCase());
  if (found) return found;
  throw new Refusal(
    `--setup: "${name}" is not known here. Known: ${rows.map((row) => row.name).join(', ')}. See taptrue setups.`,
  );
}

/** The set-up of that name, when it is one of a line. */
export async function lineSetUp(name: string): Promise<LineSetUp> {
  const row = await named(name);
  if (row.fit === 'line') return row;
  throw new Refusal(
    `${row.name} is read round a circle, not along a line. Write taptrue circle FILE.csv --setup ${row.name} --diameter LENGTH.`,
  );
}

/** The set-up of that name, when it is one of a circle. */
export async function circleSetUp(name: string): Promise<CircleSetUp> {
  const row = await named(name);
  if (row.fit === 'circle') return row;
  throw new Refusal(
    `${row.name} is swept along a line, not round a circle. Write taptrue fit FILE.csv --setup ${row.name}.`,
  );
}
