import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Command, RecordEntry, SECTION_NAMES, ServiceMessage } from '@taptrue/protocol';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';
import { FAULT_TABLES } from '../../protocol/faults/fault-codes.ts';
import { faultPage } from '../schema/fault-page.ts';
import { SERVER_ROOMS } from './arrows.ts';
import { ROOT, sourceFiles } from './source-files.ts';

const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');
const devices = readFileSync(join(ROOT, 'server/devices/README.md'), 'utf8');
const developers = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8');

const faultsPage = readFileSync(join(ROOT, 'protocol/FAULTS.md'), 'utf8');

describe('the page of faults', () => {
  it('is what the tables say', () => {
    expect(faultsPage).toBe(faultPage());
  });

  it('explains no fault that is gone', () => {
    const inSource = sourceFiles('server', 'simulators', 'web')
      .map((file) => file.text)
      .join('\n');
    const codes = Object.values(FAULT_TABLES).flatMap((table) => Object.keys(table));
    expect(codes.length).toBeGreaterThan(200);
    expect(codes.filter((code) => !inSource.includes(`'${code}'`))).toEqual([]);
  });

  it('gives each code one meaning', () => {
    const codes = Object.values(FAULT_TABLES).flatMap((table) => Object.keys(table));
    expect(new Set(codes).size).toBe(codes.length);
  });
});

describe('the README stays true', () => {
  it('explains the faults met first, and none that is gone', () => {
    const codes: string[] = Object.values(FAULT_TABLES).flatMap((table) => Object.keys(table));
    const rows = [...readme.matchAll(/^\| `([a-z][a-z0-9-]+)` \|/gm)].map((match) => match[1]!);
    const faults = rows.filter((code) => codes.includes(code));
    expect(faults.length).toBeGreaterThanOrEqual(12);
    expect(readme).toContain('protocol/FAULTS.md');
  });

  it('leads to the page that names every line shape', () => {
    expect(readme).toContain('server/devices/README.md');
    expect(
      SHAPES.map((shape) => shape.name).filter((name) => !devices.includes(`\`${name}\``)),
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

describe('each room of the service', () => {
  it.each(SERVER_ROOMS.filter((room) => room !== 'bin'))('%s says what is in it', (room) => {
    expect(readFileSync(join(ROOT, 'server', room, 'README.md'), 'utf8')).toMatch(/^# /);
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
