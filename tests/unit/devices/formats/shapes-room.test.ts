import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Answer, Fault, LineShape, LinkName } from '@taptrue/protocol';
import { readListenOptions } from '@taptrue/server/cli/listen-options.ts';
import { ownShapesIn } from '@taptrue/server/cli/own-shapes.ts';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { FormatsController } from '@taptrue/server/devices/formats-controller.ts';
import { asShapeFile } from '@taptrue/server/devices/shape-folder.ts';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const own: LineShape = { ...shapeNamed('signed-decimal')!, name: 'mine', title: 'Mine' };

let dataFolder: string;
let folder: string;
let raised: Fault[];
let used: LinkName | null;

beforeEach(() => {
  dataFolder = mkdtempSync(join(tmpdir(), 'taptrue-shapes-'));
  folder = join(dataFolder, 'shapes');
  raised = [];
  used = null;
});
afterEach(() => rmSync(dataFolder, { recursive: true, force: true }));

function openRoom(): FormatsController {
  const room = new FormatsController({
    folder,
    raise: (_from, fault) => raised.push(fault),
    usedBy: () => used,
  });
  room.open();
  return room;
}

const put = (name: string, text: string) => {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, name), text);
};
const codeOf = (answer: Answer) => (answer.ok ? 'done' : answer.fault.code);
const keep = (room: FormatsController, shape: LineShape, over = false) =>
  room.command({ kind: 'keep shape', shape, over });

describe('the shop’s own line shapes', () => {
  it('are kept as files, found again, and named beside those that ship', async () => {
    expect(codeOf(await keep(openRoom(), own))).toBe('done');
    expect(readdirSync(folder)).toEqual(['mine.json']);
    const again = openRoom();
    expect(again.table.named('mine')).toEqual(own);
    expect(again.list().filter((shape) => shape.own)).toMatchObject([
      { name: 'mine', title: 'Mine' },
    ]);
    expect(again.file('mine')).toEqual(asShapeFile(own));
    expect(JSON.parse(readFileSync(join(folder, 'mine.json'), 'utf8'))).toEqual(asShapeFile(own));
  });

  it('can be listened by from the command line', async () => {
    await keep(openRoom(), own);
    const args = ['--port', 'COM3', '--shape', 'mine', '--data', dataFolder];
    expect(readListenOptions(args, ownShapesIn).shape).toEqual(own);
    expect(() => readListenOptions(args)).toThrow(/no line shape "mine"/);
  });

  it('travel from one shop to another as a file', async () => {
    const text = JSON.stringify(asShapeFile(own));
    const room = openRoom();
    expect(codeOf(await room.command({ kind: 'import shape', text, over: false }))).toBe('done');
    expect(room.table.named('mine')).toEqual(own);
    // The same file once more changes nothing and is no collision.
    expect(codeOf(await room.command({ kind: 'import shape', text, over: false }))).toBe('done');
  });

  it.each([
    ['the name of one that ships', { ...own, name: 'axis-readout' }, false, 'shape-name-taken'],
    ['the name of one that is here', { ...own, title: 'Another' }, false, 'shape-name-taken'],
    ['that name, and said to take its place', { ...own, title: 'Another' }, true, 'done'],
    [
      'a sample that fails',
      { ...own, name: 'b', samples: own.samples.map((one) => ({ ...one, value: 5 })) },
      false,
      'shape-file-not-read',
    ],
  ])('with %s: %j', async (_what, shape, over, code) => {
    const room = openRoom();
    await keep(room, own);
    expect(codeOf(await keep(room, shape, over))).toBe(code);
    expect(room.table.named('mine')?.title).toBe(code === 'done' ? 'Another' : 'Mine');
  });

  it('are not changed or removed under a device that is read by them', async () => {
    const room = openRoom();
    await keep(room, own);
    used = 'indicator';
    expect(codeOf(await keep(room, { ...own, title: 'Another' }, true))).toBe('shape-in-use');
    expect(codeOf(await room.command({ kind: 'remove shape', name: 'mine' }))).toBe('shape-in-use');
    used = null;
    expect(codeOf(await room.command({ kind: 'remove shape', name: 'mine' }))).toBe('done');
    expect(readdirSync(folder)).toEqual([]);
    expect(codeOf(await room.command({ kind: 'remove shape', name: 'axis-readout' }))).toBe(
      'not-on-the-shelf',
    );
  });

  it('that are broken keep nobody out: each is a fault that names file, line and field', async () => {
    put('good.json', JSON.stringify(asShapeFile(own)));
    put('comma.json', '{\n  "taptrueShape": 1\n  "shape": {}\n}');
    put(
      'field.json',
      JSON.stringify(
        { taptrueShape: 1, shape: { ...own, port: { ...own.port, baudRate: 1 } } },
        null,
        1,
      ),
    );
    put('twice.json', JSON.stringify(asShapeFile({ ...own, title: 'Another' })));
    put('huge.json', 'x'.repeat(300_000));
    mkdirSync(join(folder, 'folder.json'));
    put('note.txt', 'not a shape');
    const room = openRoom();
    expect(room.table.own.map(({ name }) => name)).toEqual(['mine']);
    const whats = raised.map(({ what }) => what).join('\n');
    expect(whats).toMatch(/comma\.json cannot be used: line 3, column 3: a comma or }/);
    expect(whats).toMatch(/field\.json cannot be used: line \d+, column \d+, port\.baudRate:/);
    expect(whats).toMatch(/huge\.json cannot be used: .*300000 bytes/);
    expect(whats).toMatch(/folder\.json cannot be used: .*not a plain file/);
    expect(whats).toMatch(/another line shape named "mine"/);
    expect(raised).toHaveLength(5);
    for (const fault of raised) expect(fault.remedy).not.toBe('');
  });

  it('nothing kept is lost where the disk refuses', async () => {
    put('file', '');
    const room = new FormatsController({
      folder: join(folder, 'file'),
      raise: () => undefined,
      usedBy: () => null,
    });
    expect(codeOf(await keep(room, own))).toBe('not-kept');
    expect(room.table.named('mine')).toBeNull();
  });
});

describe('what was heard of a device', () => {
  it('is its last 2048 bytes, and another device begins anew', () => {
    const room = openRoom();
    for (let line = 0; line < 1000; line += 1) room.heard('indicator', Buffer.from(`${line}\r\n`));
    expect(room.lastBytes('indicator')).toHaveLength(2048);
    expect(room.lastBytes('indicator').endsWith('999\r\n')).toBe(true);
    expect(room.lastBytes('readout')).toBe('');
    room.heard('indicator', null);
    expect(room.lastBytes('indicator')).toBe('');
  });
});
