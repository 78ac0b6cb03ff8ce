import { readListenOptions } from '@taptrue/server/cli/listen-options.ts';
import { readServeOptions } from '@taptrue/server/cli/serve-options.ts';
import { describe, expect, it } from 'vitest';

const listen = (line: string) => readListenOptions(line.split(' '));
const serve = (line: string) => readServeOptions(line.split(' '));

describe('registers and agents on the command line', () => {
  it('are listened to without a line shape', () => {
    const { config, shape } = listen('--port modbus-tcp://plc,holding=8 --unit mm --second 10');
    expect(shape).toBeNull();
    expect(config).toMatchObject({
      source: { kind: 'modbus tcp', host: 'plc', read: { address: 8 } },
      shape: '',
      unit: 'mm',
      channel: null,
      secondChannel: '10',
    });
  });

  it('are served, with the speed of a serial line where it is said', () => {
    const { connect } = serve(
      '--indicator modbus-rtu:COM3,unit=2 --indicator-unit in --indicator-baud 9600 --readout mtconnect://agent/X --readout-second Y',
    );
    expect(connect.indicator).toMatchObject({
      source: {
        kind: 'modbus rtu',
        path: 'COM3',
        settings: { baudRate: 9600, parity: 'even', dataBits: 8, stopBits: 1 },
      },
      shape: '',
      unit: 'in',
    });
    expect(connect.readout).toEqual({
      source: {
        kind: 'mtconnect',
        host: 'agent',
        port: 5000,
        path: '',
        item: 'X',
        way: 'stream',
        everyMs: 50,
      },
      shape: '',
      unit: 'as sent',
      channel: null,
      secondChannel: 'Y',
    });
  });

  it('a second axis of lines is a channel', () => {
    expect(listen('--port COM3 --shape axis-readout --second Y').config.secondChannel).toBe('Y');
    expect(serve('--readout COM3 --readout-second Y').connect.readout?.secondChannel).toBe('Y');
  });

  it.each([
    ['--port modbus-tcp://plc', /--unit mm or --unit in/],
    [
      '--port modbus-tcp://plc --unit mm --shape signed-decimal',
      /--shape is for devices that send lines/,
    ],
    ['--port modbus-tcp://plc --unit mm --channel X', /the register says which axis/],
    ['--port modbus-tcp://plc --unit mm --second Y', /register of the second axis/],
    ['--port modbus-tcp://plc --unit mm --baud 9600', /for serial ports only/],
    ['--port mtconnect://agent/X --unit in', /millimetres by its standard/],
    ['--port mtconnect://agent/X --channel Y', /behind the address/],
    ['--port mtconnect://agent', /axis or the data item/],
  ])('%s is refused, and the sentence names what is wrong', (line, why) => {
    expect(() => listen(line)).toThrow(why);
  });

  it('serve names the option that does not fit', () => {
    expect(() => serve('--readout modbus-tcp://plc')).toThrow(/--readout-unit mm/);
  });
});
