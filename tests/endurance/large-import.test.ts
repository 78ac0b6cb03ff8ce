import { spawn } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { RecordEntry } from '@taptrue/protocol';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import { Bench } from '@taptrue/server/bench/bench.ts';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { RecordingWriter } from '@taptrue/server/records/exchange/recording-writer.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { afterAll, beforeAll, expect, test } from 'vitest';

const LAUNCHER = fileURLToPath(new URL('../../server/bin/taptrue.js', import.meta.url));
const FILE_MB = 200;
/** Less than the file: whoever held it, or its entries, would end with no memory. */
const HEAP_MB = 128;
const WITHIN_MS = 600_000;

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'taptrue-large-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A job that did nothing but listen to an indicator at 1,000 readings a second. */
function writeLarge(file: string): number {
  const begun: RecordEntry[] = [];
  const state = firstState('mill', PROTOCOL_VERSION);
  new Bench(new SectionStore(state), {
    name: 'mill',
    serviceVersion: PROTOCOL_VERSION,
    remembered: null,
    record: (entry) => void begun.push(entry),
  });
  const writer = new RecordingWriter();
  const handle = openSync(file, 'w');
  let readings = 0;
  let text = begun.map((entry) => `${JSON.stringify(entry)}\n`).join('');
  while (statSync(file).size < FILE_MB * 1e6) {
    for (let count = 0; count < 5000; count += 1) {
      readings += 1;
      const value = Number((Math.sin(readings / 1000) * 0.2).toFixed(4));
      const entry: RecordEntry = {
        entry: 'reading',
        atMs: readings,
        link: 'indicator',
        reading: {
          sequence: readings,
          atMs: readings,
          text: value.toFixed(4),
          channel: null,
          value,
          unit: 'mm',
          valueMm: value,
          decimals: 4,
          status: 'ok',
        },
      };
      text += `${JSON.stringify(entry)}\n`;
    }
    writeSync(handle, writer.push(text));
    text = '';
  }
  writeSync(handle, writer.end());
  closeSync(handle);
  return readings;
}

async function taptrue(...args: string[]): Promise<{ code: number; said: string }> {
  const child = spawn(process.execPath, [`--max-old-space-size=${HEAP_MB}`, LAUNCHER, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk) => {
      said += String(chunk);
    });
  const code = await new Promise<number>((resolve) =>
    child.once('close', (exitCode) => resolve(exitCode ?? -1)),
  );
  return { code, said };
}

test(
  '200 MB are checked and taken in, in memory that could not hold them',
  async () => {
    const file = join(folder, 'large.taptrue.jsonl');
    const readings = writeLarge(file);
    expect(statSync(file).size).toBeGreaterThan(FILE_MB * 1e6);
    const taken = await taptrue('import', file, '--data', folder);
    expect(taken.said).toContain(`taken in, ${readings + 1} entries`);
    expect(taken.code).toBe(0);
  },
  WITHIN_MS,
);
