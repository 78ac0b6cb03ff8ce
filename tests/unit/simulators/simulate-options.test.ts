import { main } from '@taptrue/server/cli/main.ts';
import { readSimulateOptions } from '@taptrue/server/cli/simulate-options.ts';
import { SHAPES, ShapeTable } from '@taptrue/server/devices/formats/shape-table.ts';
import { expect, test } from 'vitest';

test.each([
  [['--shape', 'no-such-shape'], 'no line shape "no-such-shape"'],
  [['--traverse', '10'], '--traverse takes a speed'],
  [['--still', '--traverse', '5mm/s'], 'exclude each other'],
  [['--rate', 'often'], '--rate takes a number'],
  [['--device', 'ruler'], '--device is one of'],
  [['--shape'], '--shape'],
  [['--out-of-true', '0.012'], 'no unit'],
  [['/dev/ttyS9'], 'options only'],
  [['--modbus', 'plc'], '--modbus takes a port number'],
  [['--device', 'none'], 'nothing to connect to'],
])('simulate %s is refused with the reason, exit code 3', async (args, why) => {
  const said: string[] = [];
  const terminal = { out: () => undefined, err: (text: string) => void said.push(text) };
  expect(await main(['simulate', ...args], terminal)).toBe(3);
  expect(said.join()).toContain(why);
});

test('without options an indicator speaks ten times a second over a traversing table', () => {
  expect(readSimulateOptions([])).toMatchObject({
    names: ['indicator'],
    shapes: { indicator: { name: 'signed-decimal' } },
    readingsPerSecond: 10,
    seed: 1,
    still: false,
    traverseMmPerSecond: 10,
    outOfTrueMm: null,
    seconds: null,
  });
});

test('an own line shape of the shop is spoken, and named where a name is wrong', () => {
  const own = { ...SHAPES[0]!, name: 'shop-gauge' };
  const shapesIn = (folder: string | null) => new ShapeTable(folder === 'bench' ? [own] : []);
  expect(readSimulateOptions(['--shape', 'shop-gauge', '--data', 'bench'], shapesIn)).toMatchObject(
    { shapes: { indicator: { name: 'shop-gauge' } } },
  );
  expect(() => readSimulateOptions(['--shape', 'shop', '--data', 'bench'], shapesIn)).toThrow(
    /no line shape "shop".*shop-gauge/,
  );
});

test('what is given is used, with its unit, also where it is negative', () => {
  const args = ['--device', 'readout', '--shape', 'stx-implied-point', '--traverse', '0.4in/s'];
  expect(readSimulateOptions([...args, '--out-of-true', '-0.012in'])).toMatchObject({
    names: ['readout'],
    shapes: { readout: { name: 'stx-implied-point' } },
    traverseMmPerSecond: 10.16,
    outOfTrueMm: -0.3048,
  });
});

test('registers alone need no port of a line shape', () => {
  expect(readSimulateOptions(['--device', 'none', '--modbus', '0'])).toMatchObject({
    names: [],
    modbusPort: 0,
    modbusRtu: false,
  });
});
