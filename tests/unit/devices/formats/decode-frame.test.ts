import type { LineShape, ShapeField } from '@taptrue/protocol';
import { decodeFrame } from '@taptrue/server/devices/formats/decode-frame.ts';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { describe, expect, it } from 'vitest';

const named = (name: string): LineShape => {
  const shape = shapeNamed(name);
  if (!shape) throw new Error(`no shape ${name}`);
  return shape;
};

describe('a signed decimal', () => {
  it.each([
    ['+000.1234 , IN', 0.1234, 4, 'in'],
    ['12.345', 12.345, 3, null],
    ['  -  12.345 mm', -12.345, 3, 'mm'],
    ['.0015"', 0.0015, 4, 'in'],
    ['0.0012inch', 0.0012, 4, 'in'],
    ['-0.000', 0, 3, null],
    ['0.1', 0.1, 1, null],
    ['1234567.891', 1234567.891, 3, null],
  ])('%j is %d with %d decimals in %s', (text, value, decimals, unit) => {
    expect(decodeFrame(text, named('signed-decimal'))).toEqual({
      kind: 'reading',
      value,
      decimals,
      unit,
      status: 'ok',
      channel: null,
    });
  });

  it.each([
    ['a decimal comma is never 130', '1,30'],
    ['two marks', '12.345.678'],
    ['no point', '12345'],
    ['a point and nothing after it', '12.'],
    ['a sign and nothing else', '+'],
    ['two signs', '+-1.0'],
    ['nothing', ''],
    ['another unit', '1.0 cm'],
    ['something after the unit', '1.0 mm 7'],
    ['too many digits', '12345678901.1'],
    ['a number word', 'NaN'],
    ['an exponent', '1.0e3'],
    ['digits that are not ASCII', '\u0661.\u0662'],
    ['a prototype key as unit', '1.0 constructor'],
  ])('%s is not understood', (_what, text) => {
    expect(decodeFrame(text, named('signed-decimal'))).toEqual({
      kind: 'invalid',
      why: expect.stringMatching(/./) as string,
    });
  });
});

describe('what is no number', () => {
  it.each([
    ['axis-readout', 'X= ******', 'error', 'X'],
    ['comma-list', '020, 9.9999, OVR, 01', 'over range', '01'],
    ['comma-list', '021, 0.0000, ERR, 01', 'error', '01'],
    ['signed-decimal', 'OVER', 'over range', null],
  ])('%s %j has no value: absent is not nought', (name, text, status, channel) => {
    expect(decodeFrame(text, named(name))).toMatchObject({ value: null, status, channel });
  });

  it('a held value keeps its number and says so', () => {
    expect(decodeFrame('5, 0.0021, HLD, 02', named('comma-list'))).toMatchObject({
      value: 0.0021,
      status: 'hold',
    });
  });
});

describe('the point', () => {
  const digits = (
    point: Extract<ShapeField, { kind: 'digits' }>['point'],
    atMost = 12,
  ): ShapeField => ({ kind: 'digits', atLeast: 1, atMost, point });
  const point: ShapeField = { kind: 'point', map: { '3': 3, '0': 0 } };

  it.each([
    ['implied', [digits({ kind: 'implied', decimals: 4 })], '21', 0.0021, 4],
    ['implied, none', [digits({ kind: 'implied', decimals: 0 })], '21', 21, 0],
    ['given before', [point, digits({ kind: 'given by point field' })], '300001234', 1.234, 3],
    ['given after', [digits({ kind: 'given by point field' }, 4), point], '12340', 1234, 0],
    ['a comma by rule', [digits({ kind: 'written', mark: ',' })], '1,30', 1.3, 2],
  ])('%s', (_what, fields, text, value, decimals) => {
    expect(decodeFrame(text, { fields, specials: [] })).toMatchObject({ value, decimals });
  });

  it('of more than nine decimals is not understood', () => {
    const fields = [digits({ kind: 'written', mark: '.' })];
    expect(decodeFrame('0.0123456789', { fields, specials: [] }).kind).toBe('invalid');
  });

  it('gives the double nearest to the digits, for every number of four decimals up to 2', () => {
    for (let tenThousandths = 0; tenThousandths < 20_000; tenThousandths += 1) {
      const text = (tenThousandths / 10_000).toFixed(4);
      const decoded = decodeFrame(text, named('signed-decimal'));
      if (decoded.kind !== 'reading' || decoded.value !== Number(text)) {
        expect(decoded).toMatchObject({ value: Number(text) });
      }
    }
  });
});
