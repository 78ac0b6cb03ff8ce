import { checkerOf, LinkSource, usualRegisterRead } from '@taptrue/protocol';
import { sourceFromText } from '@taptrue/server/devices/transport/source-from-text.ts';
import { describe, expect, it } from 'vitest';

describe('a port as it is typed', () => {
  it.each([
    ['COM3', { kind: 'serial', path: 'COM3', settings: null }],
    [' /dev/ttyUSB0 ', { kind: 'serial', path: '/dev/ttyUSB0', settings: null }],
    [
      '/dev/serial/by-id/usb-A1-if00',
      { kind: 'serial', path: '/dev/serial/by-id/usb-A1-if00', settings: null },
    ],
    ['tcp://192.168.1.20:4001', { kind: 'tcp', host: '192.168.1.20', port: 4001 }],
    ['TCP://bench-3.local:23/', { kind: 'tcp', host: 'bench-3.local', port: 23 }],
    ['tcp://[::1]:4001', { kind: 'tcp', host: '::1', port: 4001 }],
  ])('%j is a source', (text, source) => {
    expect(sourceFromText(text)).toEqual(source);
  });

  it.each([
    ['', /No port was named/],
    ['   ', /No port was named/],
    ['http://bench', /"http:\/\/" is not known/],
    ['tcp://bench', /is not tcp:\/\/host:port/],
    ['tcp://:4001', /is not tcp:\/\/host:port/],
    ['tcp://bench:70000', /70000/],
    ['tcp://bench:0', /must be 1 to 65535/],
    ['/dev/tty\u0000', /control characters/],
    ['x'.repeat(300), /256/],
  ])('%j is refused with the reason', (text, why) => {
    const source = sourceFromText(text);
    expect(source.kind).toBe('not a source');
    if (source.kind === 'not a source') expect(source.why).toMatch(why);
  });
});

describe('registers as they are typed', () => {
  const usual = usualRegisterRead();
  it.each([
    ['modbus-tcp://bench-plc', { kind: 'modbus tcp', host: 'bench-plc', port: 502, read: usual }],
    [
      'modbus-tcp://[::1]:1502,unit=7,input=100,as=int32,order=cdab,count=0.0001,every=50,wait=200',
      {
        kind: 'modbus tcp',
        host: '::1',
        port: 1502,
        read: {
          unitId: 7,
          function: 4,
          address: 100,
          form: 'int32',
          order: 'CDAB',
          perCount: 0.0001,
          everyMs: 50,
          answerWithinMs: 200,
        },
      },
    ],
    [
      'modbus-rtu:COM3, unit=2, holding=8, as=float32',
      {
        kind: 'modbus rtu',
        path: 'COM3',
        settings: null,
        read: { ...usual, unitId: 2, address: 8, form: 'float32', perCount: 1 },
      },
    ],
    [
      'modbus-rtu:/dev/serial/by-id/a,b,line=9600-8n1',
      {
        kind: 'modbus rtu',
        path: '/dev/serial/by-id/a,b',
        settings: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
        read: usual,
      },
    ],
    [
      'mtconnect://192.168.1.30/X',
      {
        kind: 'mtconnect',
        host: '192.168.1.30',
        port: 5000,
        path: '',
        item: 'X',
        way: 'stream',
        everyMs: 50,
      },
    ],
    [
      'mtconnects://agent/X',
      {
        kind: 'mtconnect',
        host: 'agent',
        port: 5000,
        secure: true,
        path: '',
        item: 'X',
        way: 'stream',
        everyMs: 50,
      },
    ],
    [
      'MTConnect://agent:7878/mill-1/x3,way=poll,every=200',
      {
        kind: 'mtconnect',
        host: 'agent',
        port: 7878,
        path: '/mill-1',
        item: 'x3',
        way: 'poll',
        everyMs: 200,
      },
    ],
  ])('%j is a source', (text, source) => {
    expect(sourceFromText(text)).toEqual(source);
    expect(checkerOf(LinkSource).check(source)).toMatchObject({ ok: true });
  });

  it.each([
    ['modbus-tcp://', /not host:port/],
    ['modbus-tcp://plc:0', /1 to 65535/],
    ['modbus-tcp://plc,holding=65536', /holding=65536.*0 to 65535/],
    ['modbus-tcp://plc,holding=40001x', /whole number/],
    ['modbus-tcp://plc,holding=1,input=1', /not both/],
    ['modbus-tcp://plc,unit=1,unit=2', /twice/],
    ['modbus-tcp://plc,speed=9', /speed= is not known/],
    ['modbus-tcp://plc,line=9600-8N1', /line= is not known/],
    ['modbus-tcp://plc,as=int64', /int16, uint16/],
    ['modbus-tcp://plc,count=0', /length of one count/],
    ['modbus-tcp://plc,count=-1', /length of one count/],
    ['modbus-rtu:', /names no port/],
    ['modbus-rtu:COM3,line=fast', /19200-8E1/],
    ['mtconnect://agent', /axis or the data item/],
    ['mtconnect://agent/X,way=listen', /stream, poll/],
    ['mtconnect://agent/X,every=1', /20 to 10000/],
  ])('%j is refused with the reason', (text, why) => {
    expect(sourceFromText(text)).toMatchObject({
      kind: 'not a source',
      why: expect.stringMatching(why),
    });
  });
});
