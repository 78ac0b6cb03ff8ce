import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import {
  PROTOCOL_VERSION,
  RECORDING_FORMAT,
  RECORDING_UNITS,
  RECORDING_VERSION,
  recordingSchema,
} from '@taptrue/protocol';
import { expect, test } from 'vitest';
import { keepIn, newStore, recordingOf, shortJob } from './a-job.ts';

const FILE = fileURLToPath(
  new URL('../../../../protocol/record/recording.schema.json', import.meta.url),
);

test('the schema that lies in protocol is the one that is checked by (npm run schema writes it anew)', () => {
  const file: unknown = JSON.parse(readFileSync(FILE, 'utf8'));
  expect(file).toEqual(JSON.parse(JSON.stringify(recordingSchema())));
});

test('a recording can be read with a text editor: a header that says what it is, entries, an end line', () => {
  const db = newStore();
  const { key, entries } = shortJob();
  keepIn(db, key, entries);
  const lines = recordingOf(db, key).split('\n');
  expect(lines.at(-1)).toBe('');
  expect(lines).toHaveLength(entries.length + 3);
  expect(JSON.parse(lines[0]!)).toEqual({
    format: RECORDING_FORMAT,
    formatVersion: RECORDING_VERSION,
    program: PROTOCOL_VERSION,
    job: key,
    bench: 'mill',
    units: RECORDING_UNITS,
  });
  expect(lines.slice(1, -2)).toEqual(entries.map((entry) => JSON.stringify(entry)));
  expect(JSON.parse(lines.at(-2)!)).toMatchObject({
    end: RECORDING_FORMAT,
    lines: entries.length + 1,
  });
});

test('every name of a number in the format ends in its unit, or is a count, a ratio or a number of something', () => {
  const bare = new Set<string>();
  const walk = (node: unknown, name: string): void => {
    if (typeof node !== 'object' || node === null) return;
    const { type, properties } = node as { type?: string; properties?: Record<string, unknown> };
    if (type === 'number' && !UNIT.test(name)) bare.add(name);
    for (const [inner, value] of Object.entries(properties ?? {})) walk(value, inner);
    for (const [part, value] of Object.entries(node)) {
      if (part === 'properties') continue;
      for (const one of Array.isArray(value) ? value : [value]) walk(one, name);
    }
  };
  walk(recordingSchema(), '');
  expect([...bare].filter((name) => !PLAIN.has(name))).toEqual([]);
});

const UNIT =
  /(Mm|In|Uin|Ms|S|Arcsec|ArcsecExpanded|Rad|Deg|Um|K|UmPerM|PerMin|MmPerM|InPerFt|ArcsecPerUnit|PerSecond)$|^(mm|rad|arcsec|deg)$/;

/** Ratios, counts, codes, and numbers whose unit stands beside them in `unit`. */
const PLAIN = new Set([
  'formatVersion',
  'taptrueJob',
  'counts',
  'factor',
  'perCount',
  'surfacePerReading',
  'slope',
  'slopeStandardError',
  'robustSlope',
  'targetSlope',
  'stackLeftSlope',
  'stackRightSlope',
  'riseOverRun',
  'setUpShare',
  'shareOfTolerance',
  'coverageFactor',
  'degreesOfFreedom',
  'dataBits',
  'stopBits',
  'function',
  'map',
  'hexDigits',
  'value',
  'standardUncertainty',
]);
