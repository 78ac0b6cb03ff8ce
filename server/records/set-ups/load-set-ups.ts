import { existsSync, readdirSync } from 'node:fs';
import { faultsOfSetUps, type SetUp } from '../../set-ups/set-up.ts';

/** Set-ups that ship: one folder each, in it a `set-up.ts` that exports `setUp`. */
export const SHIPPED_SET_UPS = new URL('../../set-ups/rows/', import.meta.url);

/**
 * Every set-up that has a folder, by name. A new one is one folder: nothing else lists them.
 * Throws with the folder's name where one cannot be used, since that is a fault of ours.
 */
export async function loadSetUps(folders: readonly URL[] = [SHIPPED_SET_UPS]): Promise<SetUp[]> {
  const rows: SetUp[] = [];
  for (const folder of folders) {
    const names = readdirSync(folder, { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => entry.name)
      .sort();
    for (const name of names) {
      const file = new URL(`${name}/set-up.ts`, folder);
      if (!existsSync(file)) continue;
      const { setUp } = (await import(file.href)) as { setUp?: SetUp };
      if (setUp?.name !== name)
        throw new Error(`${file.pathname} exports no set-up called ${name}.`);
      rows.push(setUp);
    }
  }
  const faults = faultsOfSetUps(rows);
  if (faults.length > 0) throw new Error(faults.join(' '));
  return rows;
}
