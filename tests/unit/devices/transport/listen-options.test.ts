import type { Reading } from '@taptrue/protocol';
import { chunkLines, readingText } from '@taptrue/server/cli/listen-lines.ts';
import { readListenOptions } from '@taptrue/server/cli/listen-options.ts';
import { portsText } from '@taptrue/server/cli/ports-command.ts';
import { describe, expect, it } from 'vitest';

const read = (line: string) => readListenOptions(line.split(' '));

describe('what taptrue listen is told', () => {
  it('is a port, a shape, and the usual for everything else', () => {
    expect(read('--port COM3 --shape signed-decimal')).toMatchObject({
      config: {
        source: { kind: 'serial', path: 'COM3', settings: null },
        shape: 'signed-decimal',
        unit: 'as sent',
        channel: null,
      },
      seconds: null,
      json: false,
    });
  });

  it('changes of the port settings only what is named', () => {
    const { config } = read(
      '--port COM3 --shape signed-decimal --baud 4800 --parity even --data-bits 7',
    );
    expect(config.source).toEqual({
      kind: 'serial',
      path: 'COM3',
      settings: { baudRate: 4800, dataBits: 7, parity: 'even', stopBits: 1 },
    });
  });

  it('sets the levels of DTR and RTS that a lead lives on', () => {
    const { config } = read('--port COM3 --shape signed-decimal --rts down');
    expect(config.source).toMatchObject({ lines: { dtr: true, rts: false } });
  });

  it.each([
    ['--shape signed-decimal', /--port is missing/],
    ['--port COM3', /--shape is missing.*signed-decimal/],
    ['--port COM3 --shape guess', /no line shape "guess".*axis-readout/],
    ['--port COM3 --shape signed-decimal --unit cm', /--unit is "cm"; it takes mm, in or as-sent/],
    ['--port COM3 --shape signed-decimal --baud fast', /--baud is "fast"/],
    ['--port COM3 --shape signed-decimal --baud 9600.5', /--baud/],
    ['--port COM3 --shape signed-decimal --parity toString', /--parity.*none or even or odd/],
    ['--port COM3 --shape signed-decimal --seconds -1', /--seconds is "-1"/],
    ['--port COM3 --shape signed-decimal --channel 123456789', /one to eight characters/],
    ['--port tcp://a:1 --shape signed-decimal --baud 9600', /for serial ports only/],
    ['--port tcp://a:1 --shape signed-decimal --dtr up', /--dtr and --rts are for serial ports/],
    ['--port COM3 --shape signed-decimal --dtr 1', /--dtr is "1"; it takes up or down/],
    ['--port tcp://a --shape signed-decimal', /is not tcp:\/\/host:port/],
    ['COM3 --shape signed-decimal', /"COM3" is not expected/],
    ['--colour red', /--colour/],
  ])('%s is refused, and the sentence names what is wrong', (line, why) => {
    expect(() => read(line)).toThrow(why);
  });
});

describe('what taptrue listen prints', () => {
  const reading: Reading = {
    sequence: 0,
    atMs: 0,
    text: 'X= -1.2340 INCH',
    channel: 'X',
    value: -1.234,
    unit: 'in',
    valueMm: -31.3436,
    decimals: 4,
    status: 'ok',
  };

  it('is the number as the device shows it, with its channel', () => {
    expect(readingText(reading)).toBe('-1.2340 in  channel X');
    expect(readingText({ ...reading, value: null, valueMm: null, status: 'error' })).toBe(
      'no number  channel X  error',
    );
  });

  it('is the bytes at the left, what ended in them at the right', () => {
    const lines = chunkLines(Buffer.from('X= -1.2340 INCH\r\n'), [reading, reading], 1234.5678);
    expect(lines).toEqual([
      '    1.235  "X= -1.2340 INCH\\r\\n"               | -1.2340 in  channel X',
      `${' '.repeat(47)}| -1.2340 in  channel X`,
    ]);
  });
});

describe('what taptrue ports prints', () => {
  it('is a table', () => {
    const text = portsText([
      {
        path: '/dev/ttyUSB0',
        identity: '/dev/serial/by-id/a',
        title: 'lead',
        knownBy: 'name by id',
      },
    ]);
    expect(text.split('\n')).toEqual([
      'PORT          IDENTITY             KNOWN BY    WHAT IT IS',
      '/dev/ttyUSB0  /dev/serial/by-id/a  name by id  lead',
    ]);
  });

  it('says what to do where there is none', () => {
    expect(portsText([])).toMatch(/Plug the device in/);
  });
});
