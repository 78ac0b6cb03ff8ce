import { findPorts, type PortFinder } from '@taptrue/server/devices/transport/find-ports.ts';
import { describe, expect, it } from 'vitest';

const finder = (parts: Partial<PortFinder>): PortFinder => ({
  list: async () => [],
  links: async () => [],
  consoles: async () => [],
  system: 'linux',
  ...parts,
});

describe('ports', () => {
  it('are named by their serial number, else by their socket, else by their path', async () => {
    const ports = await findPorts(
      finder({
        list: async () => [
          { path: '/dev/ttyUSB0', vendorId: '0403', productId: '6001', serialNumber: 'K7Q1' },
          { path: '/dev/ttyUSB1', vendorId: '0403', productId: '6001' },
          { path: '/dev/ttyUSB2', vendorId: '10C4', productId: 'EA60', serialNumber: 'P2Z9' },
          { path: '/dev/ttyUSB10' },
        ],
        links: async (folder) =>
          folder.endsWith('by-id')
            ? [['/dev/serial/by-id/usb-A1', '/dev/ttyUSB0']]
            : [
                ['/dev/serial/by-path/pci-0', '/dev/ttyUSB0'],
                ['/dev/serial/by-path/pci-1', '/dev/ttyUSB1'],
              ],
      }),
    );
    expect(ports.map((port) => [port.path, port.identity])).toEqual([
      ['/dev/ttyUSB0', 'usb:0403:6001:K7Q1'],
      ['/dev/ttyUSB1', '/dev/serial/by-path/pci-1'],
      ['/dev/ttyUSB2', 'usb:10c4:ea60:P2Z9'],
      ['/dev/ttyUSB10', '/dev/ttyUSB10'],
    ]);
  });

  it('are found by their links where the system has no list of its own', async () => {
    const ports = await findPorts(
      finder({
        list: async () => {
          throw new Error('spawn udevadm ENOENT');
        },
        links: async (folder) =>
          folder.endsWith('by-id') ? [['/dev/serial/by-id/usb-A1', '/dev/ttyUSB0']] : [],
      }),
    );
    expect(ports).toEqual([
      {
        path: '/dev/ttyUSB0',
        identity: '/dev/serial/by-id/usb-A1',
        title: 'serial port',
        knownBy: 'name by id',
      },
    ]);
  });

  it('say so where one is the console of the computer', async () => {
    const ports = await findPorts(
      finder({ list: async () => [{ path: '/dev/ttyS0' }], consoles: async () => ['ttyS0'] }),
    );
    expect(ports[0]?.title).toMatch(/console/);
  });

  it('have their call-out name on macOS', async () => {
    const ports = await findPorts(
      finder({ list: async () => [{ path: '/dev/tty.usb-1' }], system: 'darwin' }),
    );
    expect(ports[0]?.path).toBe('/dev/cu.usb-1');
  });

  it('of this machine can be listed, whatever it has', async () => {
    await expect(findPorts()).resolves.toBeInstanceOf(Array);
  });
});
