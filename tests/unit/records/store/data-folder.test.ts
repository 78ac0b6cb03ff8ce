import { homedir } from 'node:os';
import { join } from 'node:path';
import { folderNameOf, usualDataFolder } from '@taptrue/server/files/data-folder.ts';
import { describe, expect, test } from 'vitest';

describe('the folder name of a bench', () => {
  test.each([
    ['bench', 'bench'],
    ['Mill 3', 'mill-3'],
    ['mill_3', 'mill-3'],
    ['  Mill   3 ', 'mill-3'],
    ['', 'bench'],
    ['   ', 'bench'],
  ])('of %j is %s', (name, folder) => {
    expect(folderNameOf(name)).toBe(folder);
  });

  const AWKWARD = [
    '../../etc',
    '..',
    '.',
    '/',
    '\\\\server\\share',
    'C:\\bench',
    'a/b',
    'a\u0000b',
    '-rf',
    'con',
    'NUL',
    'com1',
    'lpt9',
    'aux',
    'Fräse',
    'Frase!',
    'ﬁne',
    '铣床一',
    '铣床二',
    '🛠',
    '***',
    'x'.repeat(300),
    'x'.repeat(299),
  ];

  test.each(AWKWARD)('of %j cannot leave the folder and is no device of any system', (name) => {
    const folder = folderNameOf(name);
    expect(folder).toMatch(/^[a-z0-9][a-z0-9-]{0,79}$/);
    expect(folder).not.toMatch(/^(con|prn|aux|nul|com\d|lpt\d)$/);
    expect(join('/data', folder)).toBe(`/data/${folder}`);
  });

  test('is another for every one of them, and for the bench without a name', () => {
    const folders = [...AWKWARD, 'bench', 'frase', 'x'.repeat(60)].map(folderNameOf);
    expect(new Set(folders).size).toBe(folders.length);
  });

  test('does not depend on how a letter was composed, nor on capitals', () => {
    expect(folderNameOf('Fra\u0308se')).toBe(folderNameOf('FR\u00c4SE'));
  });
});

describe('the usual data folder', () => {
  test.each([
    ['linux', { XDG_DATA_HOME: '/x' }, '/x/taptrue'],
    ['linux', {}, join(homedir(), '.local', 'share', 'taptrue')],
    ['linux', { XDG_DATA_HOME: '' }, join(homedir(), '.local', 'share', 'taptrue')],
    ['darwin', {}, join(homedir(), 'Library', 'Application Support', 'Taptrue')],
    ['win32', { APPDATA: '/roaming' }, join('/roaming', 'Taptrue')],
    ['win32', { APPDATA: '' }, join(homedir(), 'AppData', 'Roaming', 'Taptrue')],
  ] as const)('on %s with %j is %s', (platform, env, folder) => {
    expect(usualDataFolder(platform, env)).toBe(folder);
  });
});
