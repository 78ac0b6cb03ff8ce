import { fork } from 'node:child_process';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import type { PartResult } from './row.ts';
import { tableText } from './table.ts';

/** Each part in a process of its own, one after the other: what one leaves behind must not slow the next. */
const PARTS = [
  { file: 'readings-per-second.ts', flags: [] },
  { file: 'judge-cost.ts', flags: [] },
  { file: 'memory.ts', flags: ['--expose-gc'] },
  { file: 'byte-to-pixel.ts', flags: [] },
  { file: 'record-cost.ts', flags: [] },
  { file: 'replay.ts', flags: [] },
  { file: 'proof-list.ts', flags: [] },
];
/** A part that hangs must not hold the bench; the slowest takes about a minute. */
const PART_WITHIN_MS = 150_000;

function runPart(file: string, flags: string[]): Promise<PartResult> {
  const failed = (why: string): PartResult => ({
    title: file,
    rows: [],
    notes: [`This part gave no figures: ${why}.`],
  });
  return new Promise((resolve) => {
    const path = fileURLToPath(new URL(`./parts/${file}`, import.meta.url));
    const child = fork(path, { execArgv: ['--import', 'tsx', ...flags] });
    let result: PartResult | null = null;
    const timer = setTimeout(() => child.kill('SIGKILL'), PART_WITHIN_MS);
    child.on('message', (message) => {
      result = message as PartResult;
    });
    child.on('exit', (code, signal) => {
      clearTimeout(timer);
      resolve(result ?? failed(`it ended with ${signal ?? code}`));
    });
  });
}

const startedAtMs = performance.now();
const only = process.argv.slice(2);
const wanted = PARTS.filter(({ file }) => only.length === 0 || only.includes(file.slice(0, -3)));
const results: PartResult[] = [];
for (const { file, flags } of wanted) {
  console.log(`measuring: ${file.slice(0, -3).replaceAll('-', ' ')}`);
  results.push(await runPart(file, flags));
}
console.log(tableText(results));
if (only.length === 0 || only.includes('stack-picker')) await import('./stack-picker.ts');
const tookS = Math.round((performance.now() - startedAtMs) / 1000);
console.log(
  `${cpus().length} cores (${cpus()[0]?.model.trim()}), Node ${process.version}, ${process.platform}, ${tookS} s in all.`,
);
console.log('Ratios within one run mean something; absolute figures only on a machine left alone.');
