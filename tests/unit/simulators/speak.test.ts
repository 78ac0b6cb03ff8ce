import type { LineShape } from '@taptrue/protocol';
import { canSay, speak, type Utterance } from '@taptrue/simulators/speak.ts';
import { describe, expect, test } from 'vitest';

const BASE: LineShape = {
  name: 'under-test',
  title: 'under test',
  framing: { terminator: '\r', longestBytes: 40 },
  fields: [
    { kind: 'sign', map: { '+': 1, '-': -1 } },
    { kind: 'digits', atLeast: 4, atMost: 7, point: { kind: 'written', mark: '.' } },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: { dtr: true, rts: true },
  port: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  samples: [],
};

const SAID: Utterance = {
  value: 1.5,
  unit: 'in',
  decimals: 2,
  status: 'ok',
  channel: null,
  counter: 7,
  terse: false,
};

function text(shape: Partial<LineShape>, said: Partial<Utterance> = {}): string {
  const spoken = speak({ ...BASE, ...shape }, { ...SAID, ...said });
  return spoken.ok ? Buffer.from(spoken.bytes).toString('latin1') : `cannot: ${spoken.why}`;
}

const SIGN = { kind: 'sign', map: { '+': 1, '-': -1 } } as const;
const NUMBER = {
  kind: 'digits',
  atLeast: 1,
  atMost: 8,
  point: { kind: 'written', mark: '.' },
} as const;

describe('a number in the shape of the device', () => {
  test.each([
    { value: 1.5, decimals: 2, is: '+01.50\r' },
    { value: -0.0021, decimals: 4, is: '-0.0021\r' },
    { value: -0.0021, decimals: 2, is: '+00.00\r' },
    { value: 123.4567, decimals: 4, is: '+123.4567\r' },
    { value: 3, decimals: 0, is: '+003.0\r' },
    { value: 1234.5678, decimals: 4, is: 'cannot: 1234.5678 takes 8 digits, the shape has 7' },
  ])('$value with $decimals decimals is $is', ({ is, ...said }) => {
    expect(text({}, said)).toBe(is);
  });

  test('a comma is written where the shape writes one', () => {
    const point = { kind: 'written', mark: ',' } as const;
    expect(text({ fields: [SIGN, { ...NUMBER, point }] })).toBe('+1,50\r');
  });

  test('an implied point is not written, and its decimals are the shape’s own', () => {
    const point = { kind: 'implied', decimals: 4 } as const;
    const fields = [SIGN, { ...NUMBER, atLeast: 8, point }] as LineShape['fields'];
    expect(text({ fields, framing: { ...BASE.framing, start: '\x02' } })).toBe('\x02+00015000\r');
  });

  test('a point field says where the point stands, no finer than the device shows', () => {
    const fields: LineShape['fields'] = [
      { kind: 'unit', map: { '0': 'mm', '1': 'in' } },
      { kind: 'sign', map: { '0': 1, '1': -1 } },
      { kind: 'point', map: { a: 1, b: 3, c: 5 } },
      { kind: 'digits', atLeast: 6, atMost: 6, point: { kind: 'given by point field' } },
    ];
    expect(text({ fields }, { value: -1.5, decimals: 4 })).toBe('11b001500\r');
    expect(text({ fields }, { value: 2.5, decimals: 5, unit: 'mm' })).toBe('00c250000\r');
  });

  test.each([
    ['spaces', [{ kind: 'spaces', atLeast: 0 }, SIGN, NUMBER], '   +1.50'],
    ['leading zeros', [SIGN, NUMBER], '+00001.50'],
  ] as const)('a frame of fixed length is filled with %s', (_, fields, is) => {
    const framing = { terminator: '\r', fixedBytes: is.length, longestBytes: 40 };
    expect(text({ fields: [...fields], framing })).toBe(`${is}\r`);
  });

  test('a number too long for a frame of fixed length is not sent cut', () => {
    const framing = { terminator: '\r', fixedBytes: 4, longestBytes: 40 };
    expect(text({ framing })).toBe('cannot: the frame is 2 characters longer than its shape');
  });
});

describe('what goes with the number', () => {
  const fields: LineShape['fields'] = [
    { kind: 'channel', allowed: ['01', '02'], optional: true },
    { kind: 'counter', atLeast: 3, atMost: 3 },
    { kind: 'literal', text: ',', optional: true },
    { kind: 'sign', map: { '-': -1, '+': 1 }, optional: true },
    NUMBER,
    { kind: 'spaces', atLeast: 1 },
    { kind: 'unit', map: { IN: 'in', MM: 'mm' }, optional: true },
    { kind: 'status', map: { N: 'ok', H: 'hold' }, optional: true },
  ];
  test.each([
    { said: {}, is: '01007,+1.50 INN\r' },
    { said: { terse: true }, is: '0071.50 \r' },
    { said: { terse: true, value: -1.5 }, is: '007-1.50 \r' },
    { said: { channel: '02', status: 'hold', unit: 'mm' }, is: '02007,+1.50 MMH\r' },
    { said: { counter: 12_345 }, is: '01345,+1.50 INN\r' },
    { said: { status: 'over range' }, is: 'cannot: the shape has no way to say over range' },
    { said: { channel: '09' }, is: 'cannot: the shape has no way to say 09' },
  ] as const)('$said is $is', ({ said, is }) => {
    expect(text({ fields }, said)).toBe(is);
  });

  test('"any newline" is sent as CR LF', () => {
    expect(text({ framing: { terminator: 'any newline', longestBytes: 40 } })).toBe('+01.50\r\n');
  });
});

describe('no number', () => {
  const specials: LineShape['specials'] = [
    { text: 'A= ****', status: 'over range', channel: 'A' },
    { text: 'B= ****', status: 'over range', channel: 'B' },
    { text: 'ERR', status: 'error' },
  ];
  test.each([
    { status: 'over range', channel: 'B', is: 'B= ****\r' },
    { status: 'error', channel: 'B', is: 'ERR\r' },
    {
      status: 'ok',
      channel: null,
      is: 'cannot: the shape has no way to say that there is no number',
    },
  ] as const)('with status $status is $is', ({ is, ...said }) => {
    expect(text({ specials }, { ...said, value: null })).toBe(is);
  });

  test('beside a status word the digits are nines, never a number that was not measured', () => {
    const fields: LineShape['fields'] = [
      { ...NUMBER, atLeast: 5 },
      { kind: 'status', map: { O: 'over range' } },
    ];
    expect(text({ fields }, { value: null, status: 'over range' })).toBe('999.99O\r');
  });

  test('a shape says beforehand whether it has a word for it', () => {
    expect(canSay({ ...BASE, specials }, 'error')).toBe(true);
    expect(canSay({ ...BASE, specials }, 'hold')).toBe(false);
  });
});
