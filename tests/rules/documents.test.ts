import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Command, RecordEntry, SECTION_NAMES, ServiceMessage } from '@taptrue/protocol';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';
import { ROOT, sourceFiles } from './source-files.ts';

const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');
const developers = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8');

/** Codes of faults and cautions as they stand in the code. */
function codesInSource(): string[] {
  const codes = sourceFiles('server', 'simulators', 'web').flatMap((file) =>
    [...file.text.matchAll(/\bcode: '([a-z][a-z0-9-]+)'/g)].map((match) => match[1]!),
  );
  return [...new Set(codes)].sort();
}

describe('the README stays true', () => {
  it('explains every fault and caution a user can meet', () => {
    expect(codesInSource().filter((code) => !readme.includes(`\`${code}\``))).toEqual([]);
  });

  it('explains no fault that is gone', () => {
    const inSource = sourceFiles('server', 'simulators', 'web')
      .map((file) => file.text)
      .join('\n');
    const rows = [...readme.matchAll(/^\| `([a-z][a-z0-9-]+)` \|/gm)].map((match) => match[1]!);
    expect(rows.length).toBeGreaterThan(50);
    expect(rows.filter((code) => !inSource.includes(`'${code}'`))).toEqual([]);
  });

  it('names every line shape', () => {
    expect(
      SHAPES.map((shape) => shape.name).filter((name) => !readme.includes(`\`${name}\``)),
    ).toEqual([]);
  });

  it('shows pictures that exist', () => {
    const pictures = [...readme.matchAll(/!\[[^\]]+\]\(([^)]+)\)/g)].map((match) => match[1]!);
    expect(pictures.length).toBeGreaterThan(2);
    for (const picture of pictures) expect(() => readFileSync(join(ROOT, picture))).not.toThrow();
  });
});

describe('DEVELOPERS.md stays true', () => {
  it('describes every message of the stream and every section of the state', () => {
    const types = ServiceMessage.anyOf.map((message) => message.properties.type.const);
    for (const name of [...types, ...SECTION_NAMES]) expect(developers).toContain(`\`${name}\``);
  });

  it('names every entry of the record', () => {
    for (const entry of RecordEntry.anyOf)
      expect(developers).toContain(`\`${entry.properties.entry.const}\``);
  });

  it('every command says what it is for', () => {
    for (const command of Command.anyOf) {
      expect((command as { description?: string }).description ?? '').not.toBe('');
    }
  });

  it('names only files that exist', () => {
    const named = [
      ...developers.matchAll(/`((?:protocol|server|web|simulators|tests)\/[\w./-]+\.ts)`/g),
    ].map((match) => match[1]!);
    expect(named.length).toBeGreaterThan(10);
    for (const path of named) expect(() => readFileSync(join(ROOT, path))).not.toThrow();
  });
});

describe('the top level holds what it is meant to hold', () => {
  it('and nothing else', () => {
    const ours = new Set([
      'README.md',
      'DEVELOPERS.md',
      'package.json',
      'package-lock.json',
      'tsconfig.json',
      'LICENSE',
      'protocol',
      'server',
      'web',
      'simulators',
      'tests',
      'node_modules',
    ]);
    const other = readdirSync(ROOT).filter((name) => !name.startsWith('.') && !ours.has(name));
    expect(other).toEqual([]);
  });
});
