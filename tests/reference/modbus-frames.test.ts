import { RegisterAsker } from '@taptrue/server/devices/transport/modbus/ask-registers.ts';
import { numberIn } from '@taptrue/server/devices/transport/modbus/registers.ts';
import { withChecksum } from '@taptrue/server/devices/transport/modbus/wire.ts';
import { RtuWire } from '@taptrue/server/devices/transport/modbus/wire-rtu.ts';
import { describe, expect, it } from 'vitest';

const bytes = (hex: string) => Buffer.from(hex.replaceAll(' ', ''), 'hex');
const hex = (frame: Uint8Array) => Buffer.from(frame).toString('hex').toUpperCase();

describe('the checksum of Modbus RTU, low byte first', () => {
  it.each([
    // CRC-16/MODBUS, check value of the catalogue of parametrised CRC algorithms.
    ['313233343536373839', '374B', 'check 0x4B37 for "123456789"'],
    // Worked example of MODBUS over Serial Line V1.02 (from memory); two public test files agree.
    ['02 07', '4112', 'register 0x1241'],
    // Public documentation of a temperature sensor with this line.
    ['01 03 00 00 00 02', 'C40B', 'two holding registers from 0'],
    // A public assertion in another language's test.
    ['01 03 01 89 00 02', '141D', 'two holding registers from 393'],
    // Computed by the definition of the CRC, bit by bit.
    ['01 03 00 3C 00 02', '0407', 'two holding registers from 60'],
    ['01 03 00 00 00 01', '840A', 'one holding register from 0'],
  ])('of %s is %s', (body, checksum) => {
    expect(hex(withChecksum(bytes(body))).slice(-4)).toBe(checksum);
  });

  it.each([
    [1, 3, 0, 2, '010300000002C40B'],
    [1, 3, 393, 2, '010301890002141D'],
    [1, 3, 60, 2, '0103003C00020407'],
    [1, 3, 0, 1, '010300000001840A'],
  ] as const)(
    'stands in the request for unit %i, function %i, from %i, %i of them',
    (unitId, code, address, count, wanted) => {
      const sent: string[] = [];
      const wire = new RtuWire();
      const asker = new RegisterAsker((request) => sent.push(hex(wire.ask(request))));
      asker.ask({ unitId, function: code, address, count }, () => undefined);
      expect(sent).toEqual([wanted]);
    },
  );
});

describe('a float in each of the four byte orders', () => {
  // Test values of a public Modbus library in C (libmodbus, tests/unit-test.h): 123456.0 = 0x47F12000, A = 0x47.
  it.each([
    ['ABCD', '47F12000'],
    ['DCBA', '0020F147'],
    ['BADC', 'F1470020'],
    ['CDAB', '200047F1'],
  ] as const)('%s', (order, wire) => {
    expect(numberIn(bytes(wire), 'float32', order)).toBe(123456);
  });
});
