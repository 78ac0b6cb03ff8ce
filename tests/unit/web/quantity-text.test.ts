import { linkConfigOf } from '@taptrue/web/places/devices/view/link-source-text.ts';
import { parseQuantity, parseStationsMm, quantityText } from '@taptrue/web/view/quantity-text.ts';
import { describe, expect, it } from 'vitest';

describe('what is typed into a field', () => {
  it.each([
    ['0.001', 'length', 'in', 0.0254],
    [',001', 'length', 'in', 0.0254],
    ['0,5', 'length', 'mm', 0.5],
    ['0.5mm', 'length', 'in', 0.5],
    ['2 thou', 'length', 'mm', 0.0508],
    ['20', 'angle', 'in', (20 * Math.PI) / 648_000],
    ['1min', 'angle', 'in', (60 * Math.PI) / 648_000],
    ['7', 'count', 'in', 7],
  ] as const)('%s as a %s beside %s', (text, kind, unit, expected) => {
    const parsed = parseQuantity(text, kind, unit);
    expect(parsed.ok && parsed.value).toBeCloseTo(expected, 12);
  });

  it.each([
    ['1,234.5', 'length'],
    ['five', 'length'],
    ['3 furlongs', 'length'],
    ['2.5', 'count'],
    ['12 apples', 'angle'],
  ] as const)('%s is refused as a %s with a reason that quotes it', (text, kind) => {
    const parsed = parseQuantity(text, kind, 'in');
    expect(parsed.ok ? 'taken' : parsed.why).toContain(text.split(' ').at(-1));
  });

  it.each([
    [0.0254, 'length', 'in', '0.001 in'],
    [127, 'length', 'in', '5 in'],
    [63.5, 'length', 'mm', '63.5 mm'],
    [0, 'length', 'in', '0 in'],
    [null, 'length', 'in', ''],
    [(41 * Math.PI) / 648_000, 'angle', 'in', '41 arcsec'],
    [Math.PI / 12, 'angle', 'in', '15 deg'],
  ] as const)('%s as a %s beside %s is shown as "%s"', (value, kind, unit, text) => {
    expect(quantityText(value, kind, unit)).toBe(text);
  });
});

describe('typed stations', () => {
  it.each([
    ['0 1.25 2.5', 'in', [0, 31.75, 63.5]],
    ['0in  50mm; 4in', 'in', [0, 50, 101.6]],
    ['0 mm 31,75 mm 63,5 mm', 'in', [0, 31.75, 63.5]],
  ] as const)('%s', (text, unit, expected) => {
    const parsed = parseStationsMm(text, unit);
    expect(parsed.ok && parsed.value.map((mm) => Number(mm.toFixed(9)))).toEqual(expected);
  });

  it.each(['', '1', '0 x 2', Array.from({ length: 26 }, (_, index) => index).join(' ')])(
    '"%s" is refused',
    (text) => {
      expect(parseStationsMm(text, 'in').ok).toBe(false);
    },
  );
});

describe('where the bytes come from', () => {
  const rest = { shape: 'signed-decimal', unit: 'as sent', channel: ' ' } as const;
  it.each([
    ['/dev/ttyUSB0', { kind: 'serial', path: '/dev/ttyUSB0', settings: null }],
    ['COM3', { kind: 'serial', path: 'COM3', settings: null }],
    ['192.168.1.9:4001', { kind: 'tcp', host: '192.168.1.9', port: 4001 }],
    ['[fe80::1]:23', { kind: 'tcp', host: 'fe80::1', port: 23 }],
  ])('%s', (source, expected) => {
    const config = linkConfigOf({ source, ...rest });
    expect(config.ok && config.value.source).toEqual(expected);
    expect(config.ok && config.value.channel).toBeNull();
  });

  it.each(['', '  ', 'shop:70000'])('"%s" is refused', (source) => {
    expect(linkConfigOf({ source, ...rest }).ok).toBe(false);
  });
});
