import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';

const server = fileURLToPath(new URL('../../../../server/', import.meta.url));
const sources = (folder: string) =>
  readdirSync(join(server, folder))
    .filter((name) => name.endsWith('.ts'))
    .map(
      (name) => [`${folder}/${name}`, readFileSync(join(server, folder, name), 'utf8')] as const,
    );

const SHAPE_FILES = sources('devices/formats');
const SUBROOM_FILES = [...sources('devices/formats/files'), ...sources('devices/formats/teach')];
const TRANSPORT_FILES = sources('devices/transport');

describe('the room of the line shapes', () => {
  it('holds files to look at', () => {
    expect(SHAPE_FILES.length).toBeGreaterThan(5);
    expect(TRANSPORT_FILES.length).toBeGreaterThan(10);
  });

  it.each(SUBROOM_FILES)('%s has none either, and looks into no other room', (_name, text) => {
    expect(text).not.toMatch(/Date\.now|new Date|performance\.|Math\.random|setTimeout|process\./);
    expect(text).not.toMatch(/from '(node:|serialport|\.\.\/\.\.\/)/);
  });

  it.each(SHAPE_FILES)('%s has no clock, no chance, no port and no file', (_name, text) => {
    expect(text).not.toMatch(/Date\.now|new Date|performance\.|Math\.random|setTimeout|process\./);
    expect(text).not.toMatch(/from '(node:|serialport)/);
    expect(text).not.toMatch(/from '\.\.\/(?!formats)/);
  });

  it.each([...SHAPE_FILES, ...SUBROOM_FILES, ...TRANSPORT_FILES])(
    '%s asks for no shape by its name',
    (_name, text) => {
      for (const { name } of SHAPES) expect(text).not.toContain(`'${name}'`);
    },
  );
});
