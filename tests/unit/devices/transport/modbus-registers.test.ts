import { usualRegisterRead } from '@taptrue/protocol';
import { planReads } from '@taptrue/server/devices/transport/modbus/plan-reads.ts';
import {
  decimalsOf,
  lengthOf,
  numberIn,
  registersText,
} from '@taptrue/server/devices/transport/modbus/registers.ts';
import { describe, expect, it } from 'vitest';

const bytes = (hex: string) => Buffer.from(hex, 'hex');

describe('a number in its registers', () => {
  it.each([
    ['FFFF', 'int16', 'ABCD', -1],
    ['FFFF', 'uint16', 'ABCD', 65535],
    ['8000', 'int16', 'ABCD', -32768],
    ['FF7F', 'int16', 'BADC', 32767],
    ['FF7F', 'int16', 'CDAB', -129],
    ['FF7F', 'int16', 'DCBA', 32767],
    ['FFFFFFFE', 'int32', 'ABCD', -2],
    ['FFFEFFFF', 'int32', 'CDAB', -2],
    ['FFFFFEFF', 'int32', 'BADC', -2],
    ['FEFFFFFF', 'int32', 'DCBA', -2],
    ['FFFFFFFE', 'uint32', 'ABCD', 4294967294],
    ['12345678', 'uint32', 'CDAB', 0x56781234],
    ['00000000', 'float32', 'ABCD', 0],
    ['BF800000', 'float32', 'ABCD', -1],
    ['7FC00000', 'float32', 'ABCD', null],
    ['7F800000', 'float32', 'ABCD', null],
    ['FF800000', 'float32', 'ABCD', null],
  ] as const)('%s as %s %s is %s', (wire, form, order, number) => {
    expect(numberIn(bytes(wire), form, order)).toBe(number);
  });
});

describe('counts as lengths', () => {
  const read = usualRegisterRead();
  it.each([
    [0.001, 3, 12345, 12.345],
    [0.0005, 4, 3, 0.0015],
    [0.00005, 5, -7, -0.00035],
    [1, 0, 12, 12],
    [0.01, 2, 29, 0.29],
    [2.5, 1, 3, 7.5],
  ])('%s a count has %i decimals', (perCount, decimals, count, length) => {
    expect(decimalsOf({ ...read, perCount }, 'mm')).toBe(decimals);
    expect(lengthOf(count, perCount, decimals)).toBe(length);
  });

  it('a float shows a tenth of a micrometre, or a millionth of an inch', () => {
    const float = { ...read, form: 'float32', perCount: 1 } as const;
    expect([decimalsOf(float, 'mm'), decimalsOf(float, 'in')]).toEqual([4, 6]);
  });
});

describe('what came, as text', () => {
  it.each([
    [100, '3039', 12345, 'register 100: 3039 = 12345'],
    [100, '47F12000', 123456, 'registers 100-101: 47F1 2000 = 123456'],
    [7, '7FC00000', null, 'registers 7-8: 7FC0 0000 = not a number'],
    [2, '4218D70A', 38.209999084472656, 'registers 2-3: 4218 D70A = 38.21'],
  ])('register %i, %s', (address, wire, number, text) => {
    expect(registersText(address, bytes(wire), number)).toBe(text);
  });
});

describe('two axes', () => {
  const read = { ...usualRegisterRead(), address: 100, form: 'int32' } as const;
  it.each([
    ['touching, above', 102, [[100, 4]]],
    ['touching, below', 98, [[98, 4]]],
    [
      'apart',
      103,
      [
        [100, 2],
        [103, 2],
      ],
    ],
    ['one', null, [[100, 2]]],
    ['twice the same', 100, [[100, 2]]],
  ] as const)('whose registers are %s', (_how, second, requests) => {
    const blocks = planReads(read, second);
    expect(blocks.map(({ address, count }) => [address, count])).toEqual(requests);
  });

  it('of one answer are cut out of it where they stand', () => {
    expect(planReads(read, 98)[0]?.wanted).toEqual([
      { channel: '100', address: 100, offsetBytes: 4 },
      { channel: '98', address: 98, offsetBytes: 0 },
    ]);
  });
});
