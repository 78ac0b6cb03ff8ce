import type { LinkSource, PortDescription } from '@taptrue/protocol';
import {
  identityOf,
  identityWords,
  type ListedPort,
  type PortLinks,
  tellApart,
} from '@taptrue/server/devices/transport/port-identity.ts';
import {
  isSameSource,
  whichPort,
  withIdentity,
} from '@taptrue/server/devices/transport/which-port.ts';
import { describe, expect, it } from 'vitest';

const ID = '/dev/serial/by-id/';
const PATH = '/dev/serial/by-path/';
const usb = (more: Partial<ListedPort>): ListedPort => ({
  path: '/dev/ttyUSB0',
  vendorId: '1A86',
  productId: '7523',
  ...more,
});
const links = (byId: string | null, byPath: string | null): PortLinks => ({ byId, byPath });

describe('what a port is known by', () => {
  it.each<[string, ListedPort, PortLinks, string, PortDescription['knownBy']]>([
    [
      'its serial number',
      usb({ serialNumber: 'NOTREAL1' }),
      links(null, `${PATH}pci-1`),
      'usb:1a86:7523:NOTREAL1',
      'serial number',
    ],
    [
      'serial number and interface, where one adapter has several ports',
      usb({ serialNumber: 'FT1' }),
      links(`${ID}usb-x_FT1-if02-port0`, null),
      'usb:1a86:7523:FT1:if02-port0',
      'serial number',
    ],
    [
      'its socket, where it has no serial number: the by-id link is then that of every such adapter',
      usb({}),
      links(`${ID}usb-1a86_USB_Serial-if00-port0`, `${PATH}pci-0-usb-0:1:1.0-port0`),
      `${PATH}pci-0-usb-0:1:1.0-port0`,
      'socket',
    ],
    [
      'its socket, where the serial number is everyone’s',
      usb({ serialNumber: '0001' }),
      links(null, `${PATH}a`),
      `${PATH}a`,
      'socket',
    ],
    [
      'its socket, where Windows made the number up',
      usb({
        path: 'COM4',
        serialNumber: '5&2E2D5C6&0&3',
        locationId: 'Port_#0003.Hub_#0001',
      }),
      links(null, null),
      'usb:1a86:7523@port_#0003.hub_#0001',
      'socket',
    ],
    [
      'its by-id link, where nothing else is known',
      { path: '/dev/ttyUSB0' },
      links(`${ID}usb-A1`, `${PATH}a`),
      `${ID}usb-A1`,
      'name by id',
    ],
    ['its name, at last', { path: '/dev/ttyS0' }, links(null, null), '/dev/ttyS0', 'port name'],
  ])('%s', (_what, port, itsLinks, identity, knownBy) => {
    expect(identityOf(port, itsLinks)).toEqual({ identity, knownBy });
  });

  it.each(['0', '0000', '000001', 'AAAA', '12345678', '0123456789', '1234567890'])(
    'not by the number %s that every piece carries',
    (serialNumber) => {
      const known = identityOf(usb({ serialNumber }), links(null, `${PATH}a`)).knownBy;
      expect(known).toBe('socket');
    },
  );

  it('two that would be called the same are told apart by their sockets', () => {
    const one = usb({ serialNumber: 'SAME1' });
    const other = { ...one, path: '/dev/ttyUSB1' };
    const apart = tellApart([
      { port: one, links: links(null, `${PATH}a`) },
      { port: other, links: links(null, `${PATH}b`) },
    ]);
    expect([...apart.values()].map(({ identity }) => identity)).toEqual([`${PATH}a`, `${PATH}b`]);
  });

  it('is said in words', () => {
    expect(identityWords('usb:0403:6001:A1:if00-port0')).toBe(
      'the adapter with serial number A1 (USB 0403:6001, if00-port0)',
    );
    expect(identityWords(`${PATH}pci-1`)).toBe('whatever is plugged in at pci-1');
  });
});

const port = (
  path: string,
  identity: string,
  knownBy: PortDescription['knownBy'] = 'serial number',
): PortDescription => ({ path, identity, knownBy, title: 'adapter' });
const serial = (path: string, identity?: string) => ({
  kind: 'serial' as const,
  path,
  settings: null,
  ...(identity !== undefined && { identity }),
});

describe('the port that is opened', () => {
  const mine = 'usb:0403:6001:A1';

  it('is where the device is now, whatever the port is called', () => {
    const ports = [port('/dev/ttyUSB0', 'usb:0403:6001:B2'), port('/dev/ttyUSB1', mine)];
    expect(whichPort(serial('/dev/ttyUSB0', mine), ports)).toEqual({
      kind: 'open',
      path: '/dev/ttyUSB1',
    });
  });

  it('is not another device under the old name: both are named, and what to do', () => {
    const which = whichPort(serial('/dev/ttyUSB0', mine), [
      port('/dev/ttyUSB0', 'usb:0403:6001:B2'),
    ]);
    expect(which).toMatchObject({ kind: 'refused', fault: { code: 'other-device' } });
    const fault = which.kind === 'refused' ? which.fault : null;
    expect(fault?.got).toMatch(/A1.*B2/);
    expect(fault?.remedy).toMatch(/connect this one anew/);
  });

  it('of two adapters without a number is the one in the same socket', () => {
    const ports = [
      port('/dev/ttyUSB0', `${PATH}b`, 'socket'),
      port('/dev/ttyUSB1', `${PATH}a`, 'socket'),
    ];
    expect(whichPort(serial('/dev/ttyUSB0', `${PATH}a`), ports)).toMatchObject({
      path: '/dev/ttyUSB1',
    });
    expect(whichPort(serial('/dev/ttyUSB1', `${PATH}c`), ports)).toMatchObject({
      kind: 'refused',
      fault: { code: 'other-device', remedy: expect.stringContaining('socket') },
    });
  });

  it('is none while the device is away', () => {
    expect(whichPort(serial('/dev/ttyUSB0', mine), [])).toMatchObject({
      kind: 'refused',
      fault: { code: 'port-not-found', got: 'no port on this computer' },
    });
  });

  it('is the typed one where no identity is known, listed or not', () => {
    expect(whichPort(serial('/dev/pts/7'), [])).toEqual({ kind: 'open', path: '/dev/pts/7' });
  });

  it('can be typed as the identity itself', () => {
    expect(whichPort(serial(mine), [port('COM12', mine)])).toEqual({ kind: 'open', path: 'COM12' });
  });
});

describe('the identity is noted when a device is connected', () => {
  const ports = [
    port('/dev/ttyUSB0', 'usb:0403:6001:A1'),
    port('/dev/ttyS0', '/dev/ttyS0', 'port name'),
  ];

  it.each<[string, LinkSource, string | null, string | undefined]>([
    ['by its port', serial('/dev/ttyUSB0'), null, 'usb:0403:6001:A1'],
    ['by a link that leads there', serial(`${ID}usb-A1`), '/dev/ttyUSB0', 'usb:0403:6001:A1'],
    ['not where only the name is known', serial('/dev/ttyS0'), null, undefined],
    ['not for a port that is not listed', serial('/dev/pts/3'), null, undefined],
  ])('%s', (_what, source, realPath, identity) => {
    const noted = withIdentity(source, ports, realPath);
    expect(noted.kind === 'serial' ? noted.identity : null).toBe(identity);
  });

  it('and an identity that was given stays', () => {
    const given = serial('/dev/ttyUSB0', 'usb:0403:6001:B2');
    expect(withIdentity(given, ports, null)).toBe(given);
  });

  it.each<[boolean, LinkSource, LinkSource]>([
    [true, serial('/dev/ttyUSB0', 'a'), serial('/dev/ttyUSB1', 'a')],
    [false, serial('/dev/ttyUSB0', 'a'), serial('/dev/ttyUSB0', 'b')],
    [true, serial('/dev/ttyUSB0'), serial('/dev/ttyUSB0', 'b')],
    [false, serial('/dev/ttyUSB0'), { kind: 'simulated', device: 'indicator' }],
  ])('same device: %s', (same, one, other) => {
    expect(isSameSource(one, other)).toBe(same);
  });
});
