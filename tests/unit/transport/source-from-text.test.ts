import { sourceFromText } from '@taptrue/server/transport/source-from-text.ts';
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
