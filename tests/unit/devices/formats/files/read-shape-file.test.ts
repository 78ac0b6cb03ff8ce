import { SHAPE_FILE_VERSION } from '@taptrue/protocol';
import {
  LARGEST_SHAPE_FILE,
  readShapeFile,
  shapeFileFault,
} from '@taptrue/server/devices/formats/files/read-shape-file.ts';
import { SHAPES, shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';

const good = { taptrueShape: SHAPE_FILE_VERSION, shape: shapeNamed('signed-decimal')! };
const text = JSON.stringify(good, null, 2);
/** The same text with one piece replaced, once. */
const with_ = (piece: string, by: string) => {
  expect(text).toContain(piece);
  return text.replace(piece, by);
};
const lineOf = (piece: string) => text.slice(0, text.indexOf(piece)).split('\n').length;

describe('a line shape file', () => {
  it.each(SHAPES.map((shape) => [shape.name, shape] as const))(
    'of %s is read again as it was',
    (_, shape) => {
      const read = readShapeFile(JSON.stringify({ taptrueShape: SHAPE_FILE_VERSION, shape }));
      expect(read).toEqual({ ok: true, shape });
    },
  );

  it.each([
    ['a missing comma', with_('"mm": "mm",', '"mm": "mm"'), lineOf('"MM"'), '', /a comma or }/],
    [
      'a quote that is missing',
      with_('"title": "', '"title": '),
      lineOf('"title"'),
      '',
      /a value is expected/,
    ],
    [
      'a comma too many',
      with_('"optional": true\n', '"optional": true,\n'),
      lineOf('"optional": true') + 1,
      '',
      /a name in double quotes/,
    ],
    [
      'a comment',
      with_('"fields": [', '"fields": [ // left to right'),
      lineOf('"fields"'),
      '',
      /a value is expected/,
    ],
    [
      'a text cut off',
      text.slice(0, 400),
      text.slice(0, 400).split('\n').length,
      '',
      /expected|missing/,
    ],
    [
      'a name twice',
      with_('"longestBytes": 40', '"longestBytes": 40, "longestBytes": 9'),
      lineOf('"longestBytes"'),
      '',
      /a second time/,
    ],
    [
      'an unknown kind of field',
      with_('"kind": "spaces"', '"kind": "regex"'),
      lineOf('"kind": "spaces"'),
      'fields[0].kind',
      /"regex" is not known/,
    ],
    [
      'a field without its map',
      with_('"kind": "sign",', '"kind": "sign", "mapp": {},'),
      lineOf('"kind": "sign"'),
      'fields[1].mapp',
      /not known/,
    ],
    [
      'a speed that is none',
      with_('"baudRate": 9600', '"baudRate": 1'),
      lineOf('"baudRate"'),
      'port.baudRate',
      /110/,
    ],
    ['another version', with_('"taptrueShape": 1', '"taptrueShape": 2'), 2, 'taptrueShape', /./],
    [
      'no digits',
      with_('"kind": "digits",', '"kind": "counter",'),
      lineOf('"point": {'),
      'fields[3].point',
      /not known/,
    ],
  ])('with %s is refused, and line and field are named', (_what, broken, line, field, why) => {
    const read = readShapeFile(broken);
    if (read.ok) throw new Error('it was read');
    expect(read.findings[0]).toMatchObject({ line, field });
    expect(read.findings[0]!.why).toMatch(why);
    const fault = shapeFileFault('mine.json', read.findings);
    expect(fault.what).toContain(`mine.json cannot be used: line ${line}, column `);
  });

  it('whose sample fails says which, what was expected and what was read', () => {
    const read = readShapeFile(with_('"value": -0.0021', '"value": -0.021'));
    if (read.ok) throw new Error('it was read');
    expect(read.findings).toHaveLength(1);
    expect(read.findings[0]).toMatchObject({ field: 'samples[1]', got: '-0.0021 in\\r\\n' });
    expect(read.findings[0]!.why).toBe('value is read as -0.0021, the sample says -0.021');
    const sampleLine = text.slice(0, text.indexOf('-0.0021 in')).split('\n').length;
    expect(read.findings[0]!.line).toBe(sampleLine - 1);
  });
});

describe('a hostile file cannot hold the service up', () => {
  const repeated = (what: string, times: number) => what.repeat(times);

  it.each([
    ['ten megabytes', `{"a":"${repeated('x', 10_000_000)}"}`, /larger than any line shape/],
    ['nesting without end', repeated('[', 60_000), /nested deeper than 16/],
    ['nested objects', repeated('{"a":', 12_000), /nested deeper than 16/],
    ['a list of thousands of values', `[${repeated('1,', 30_000)}1]`, /more than 20000 values/],
  ])('%s is refused by its limit', (_what, hostile, why) => {
    const read = readShapeFile(hostile);
    if (read.ok) throw new Error('it was read');
    expect(read.findings[0]!.why).toMatch(why);
  });

  it('thousands of fields, and fields of no length, are refused by the schema', () => {
    const fields = Array.from({ length: 2000 }, () => ({ kind: 'literal', text: 'a' }));
    const many = readShapeFile(JSON.stringify({ ...good, shape: { ...good.shape, fields } }));
    expect(many.ok ? '' : many.findings[0]!.field).toBe('fields');
    const empty = [{ kind: 'literal', text: '' }];
    const none = readShapeFile(
      JSON.stringify({ ...good, shape: { ...good.shape, fields: empty } }),
    );
    expect(none.ok ? '' : none.findings[0]!.field).toBe('fields[0].text');
    const map = Object.fromEntries(Array.from({ length: 500 }, (_, n) => [`u${n}`, 'mm']));
    const wide = [{ kind: 'unit', map }];
    expect(
      readShapeFile(JSON.stringify({ ...good, shape: { ...good.shape, fields: wide } })).ok,
    ).toBe(false);
  });

  it('what is not JSON at all, of any bytes, is refused and never thrown', () => {
    for (const junk of [
      '',
      ' ',
      '\0',
      '"',
      '\\',
      '{',
      '}',
      'null',
      '1e',
      '"\\u12"',
      '[1,]',
      '\u2028',
    ]) {
      expect(readShapeFile(junk).ok).toBe(false);
    }
    expect(text.length).toBeLessThan(LARGEST_SHAPE_FILE);
  });
});
