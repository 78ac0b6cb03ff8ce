import { checkerOf, LinkConfig } from '@taptrue/protocol';
import { agentConfigOf, firstAgent } from '@taptrue/web/places/devices/view/agent-source.ts';
import {
  firstRegisters,
  manualNumber,
  registerConfigOf,
  usualCount,
} from '@taptrue/web/places/devices/view/register-source.ts';
import { describe, expect, it } from 'vitest';

const isConfig = checkerOf(LinkConfig);

describe('the form for registers', () => {
  const typed = { ...firstRegisters(), place: '192.168.1.20', unit: 'mm' } as const;

  it('with an address and a unit is what a device is read with', () => {
    const config = registerConfigOf(typed);
    expect(config).toEqual({
      ok: true,
      value: {
        source: {
          kind: 'modbus tcp',
          host: '192.168.1.20',
          port: 502,
          read: {
            unitId: 1,
            function: 3,
            address: 0,
            form: 'int16',
            order: 'ABCD',
            perCount: 0.001,
            everyMs: 100,
            answerWithinMs: 500,
          },
        },
        shape: '',
        unit: 'mm',
        channel: null,
      },
    });
    expect(config.ok && isConfig.check(config.value)).toMatchObject({ ok: true });
  });

  it('on a serial port sets the line as the standard has it', () => {
    const config = registerConfigOf({
      ...typed,
      over: 'serial port',
      place: 'COM3',
      secondAddress: '2',
    });
    expect(config).toMatchObject({
      value: {
        source: {
          kind: 'modbus rtu',
          path: 'COM3',
          settings: { baudRate: 19200, dataBits: 8, parity: 'even', stopBits: 1 },
        },
        secondChannel: '2',
      },
    });
    expect(config.ok && isConfig.check(config.value)).toMatchObject({ ok: true });
  });

  it.each([
    ['https://agent.local:5001/', { host: 'agent.local', port: 5001, secure: true }],
    ['HTTPS://192.168.1.30', { host: '192.168.1.30', port: 5000, secure: true }],
    ['http://192.168.1.30:5000', { host: '192.168.1.30', port: 5000 }],
  ])('takes %s', (place, source) => {
    const config = agentConfigOf({ ...firstAgent(), place });
    expect(config).toMatchObject({ ok: true, value: { source } });
    expect(config.ok && 'secure' in config.value.source).toBe('secure' in source);
    expect(config.ok && isConfig.check(config.value)).toMatchObject({ ok: true });
  });

  it.each([
    [{ place: '' }, /address on the network/],
    [{ place: 'plc:0' }, /network port/],
    [{ unit: null }, /inches or millimetres/],
    [{ unitId: '256' }, /unit number.*255/],
    [{ address: '40001.5' }, /register is a whole number/],
    [{ address: '65536' }, /65535/],
    [{ secondAddress: 'Y' }, /second register/],
    [{ perCount: '0' }, /one count/],
    [{ perCount: '1/1000' }, /0\.001/],
    [{ everyMs: '5' }, /between requests.*20/],
    [{ over: 'serial port', place: '' } as const, /Choose a port/],
    [{ over: 'serial port', place: 'COM3', baud: 'fast' } as const, /speed/],
  ])('with %o says what does not fit', (change, why) => {
    const config = registerConfigOf({ ...typed, ...change });
    expect(config).toMatchObject({ ok: false, why: expect.stringMatching(why) });
  });

  it.each([
    ['0', 3, '40001 in manuals that count from 40001'],
    ['100', 4, '30101 in manuals that count from 30001'],
    ['9998', 3, '49999 in manuals that count from 40001'],
    ['9999', 3, ''],
    ['x', 3, ''],
  ] as const)('register %s of function %i is %j', (address, code, words) => {
    expect(manualNumber({ address, function: code })).toBe(words);
  });

  it.each([
    ['int16', 'mm', '0.001'],
    ['int32', 'in', '0.0001'],
    ['float32', 'in', '1'],
    ['uint16', null, '0.001'],
  ] as const)('one count of %s in %s usually is %s', (form, unit, count) => {
    expect(usualCount({ form, unit })).toBe(count);
  });
});

describe('the form for a machine’s agent', () => {
  it('is what an agent is asked with', () => {
    const config = agentConfigOf({
      ...firstAgent(),
      place: 'agent.local:7878',
      machine: '/mill-1/',
      second: ' Y ',
    });
    expect(config).toEqual({
      ok: true,
      value: {
        source: {
          kind: 'mtconnect',
          host: 'agent.local',
          port: 7878,
          path: '/mill-1',
          item: 'X',
          way: 'stream',
          everyMs: 50,
        },
        shape: '',
        unit: 'as sent',
        channel: null,
        secondChannel: 'Y',
      },
    });
    expect(config.ok && isConfig.check(config.value)).toMatchObject({ ok: true });
  });

  it.each([
    [{ place: '' }, /address on the network/],
    [{ item: ' ' }, /axis that is swept/],
    [{ everyMs: '0' }, /between values/],
  ])('with %o says what does not fit', (change, why) => {
    const config = agentConfigOf({ ...firstAgent(), place: 'agent', ...change });
    expect(config).toMatchObject({ ok: false, why: expect.stringMatching(why) });
  });
});
