import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { main } from '@taptrue/server/cli/main.ts';

export interface Ran {
  code: number;
  out: string;
  err: string;
}

/** Runs a command of taptrue in this process, its file written from `content`. */
export async function runOn(command: string, content: string, ...args: string[]): Promise<Ran> {
  const path = join(await mkdtemp(join(tmpdir(), 'taptrue-set-up-')), 'readings.csv');
  await writeFile(path, content);
  return run(command, path, ...args);
}

export async function run(...args: string[]): Promise<Ran> {
  const out: string[] = [];
  const err: string[] = [];
  const code = await main(args, { out: (text) => out.push(text), err: (text) => err.push(text) });
  return { code, out: out.join('\n'), err: err.join('\n') };
}

/** Rows of a circle at n even places, readings from a function of the angle in degrees. */
export function circleCsv(places: number, readingMm: (deg: number) => number): string {
  const rows = Array.from({ length: places }, (_each, index) => {
    const deg = (index * 360) / places;
    return `${deg},${readingMm(deg).toFixed(7)}`;
  });
  return ['angle_deg,reading_mm', ...rows].join('\n');
}

/** Rows of a line over 200 mm, readings from a function of the position. */
export function lineCsv(readingMm: (xMm: number) => number): string {
  const rows = [0, 40, 80, 120, 160, 200].map((x) => `${x},${readingMm(x).toFixed(7)}`);
  return ['position_mm,reading_mm', ...rows].join('\n');
}
