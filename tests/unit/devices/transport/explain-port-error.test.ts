import { mkdtemp, open, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { faultLine } from '@taptrue/protocol';
import { explainPortError } from '@taptrue/server/devices/transport/explain-port-error.ts';
import {
  type FactSource,
  NO_FACTS,
  portFacts,
} from '@taptrue/server/devices/transport/port-facts.ts';
import { openableName } from '@taptrue/server/devices/transport/port-name.ts';
import { describe, expect, it } from 'vitest';

const coded = (code: string, message = `something ${code}`) =>
  Object.assign(new Error(message), { code });

describe('an error of the system, in the words of the user', () => {
  it.each([
    [
      'Linux, no permission',
      new Error('Error: Permission denied, cannot open /dev/p'),
      'port-no-permission',
    ],
    ['EACCES', coded('EACCES'), 'port-no-permission'],
    [
      'Linux, not there',
      new Error('Error: No such file or directory, cannot open /dev/p'),
      'port-not-found',
    ],
    ['ENOENT', coded('ENOENT'), 'port-not-found'],
    ['Windows, not there', new Error('Opening COM9: File not found'), 'port-not-found'],
    ['locked', new Error('Error Resource temporarily unavailable Cannot lock port'), 'port-busy'],
    ['EBUSY', coded('EBUSY'), 'port-busy'],
    ['Windows, in use', new Error('Opening COM3: Access denied'), 'port-busy'],
    ['pulled out while open', new Error('bad file descriptor'), 'port-gone'],
    ['EBADF', coded('EBADF'), 'port-gone'],
    ['ENXIO', coded('ENXIO'), 'port-gone'],
    ['EIO', coded('EIO'), 'port-gone'],
    [
      'no serial port',
      new Error('Error: Inappropriate ioctl for device, cannot open'),
      'port-not-serial',
    ],
    [
      'speed not possible',
      new Error('Error: Invalid argument, cannot open'),
      'port-setting-refused',
    ],
    ['ECONNREFUSED', coded('ECONNREFUSED'), 'connection-refused'],
    ['ETIMEDOUT', coded('ETIMEDOUT'), 'connection-timed-out'],
    ['EHOSTUNREACH', coded('EHOSTUNREACH'), 'connection-timed-out'],
    ['ENOTFOUND', coded('ENOTFOUND'), 'host-not-found'],
    ['ECONNRESET', coded('ECONNRESET'), 'connection-lost'],
    ['never seen before', new Error('the moon is full'), 'port-failed'],
    ['no error at all', 'text', 'port-failed'],
  ])('%s', (_what, error, code) => {
    const fault = explainPortError(error, { title: '/dev/p', system: 'linux' });
    expect(fault.code).toBe(code);
    expect(fault.what).toContain('/dev/p');
    expect(fault.got).toBe(error instanceof Error ? error.message : error);
    expect(fault.remedy.length).toBeGreaterThan(20);
    expect(faultLine(fault)).toContain(fault.got);
  });

  it('names the group and the log-out on Linux, and neither elsewhere', () => {
    const remedyOn = (system: string) =>
      explainPortError(coded('EACCES'), { title: 'p', system }).remedy;
    expect(remedyOn('linux')).toMatch(/dialout.*log out and in/s);
    expect(remedyOn('darwin')).not.toMatch(/dialout/);
    expect(remedyOn('win32')).not.toMatch(/dialout/);
  });
});

describe('who may open a port, and who has it', () => {
  const GROUPS = 'root:x:0:\ndialout:x:20:anna\nuucp:x:14:anna,ben\n';
  const source = (parts: Partial<FactSource>): FactSource => ({
    system: 'linux',
    fileGroup: async () => 20,
    groupFile: async () => GROUPS,
    ownGroups: () => [1000],
    userName: () => 'ben',
    holder: async () => null,
    ...parts,
  });

  it.each<[string, Partial<FactSource>, RegExp]>([
    [
      'the group of the file, by name',
      {},
      /group that owns the port: sudo usermod -a -G dialout ben\. Then log out and in again/,
    ],
    [
      'another system’s group',
      { fileGroup: async () => 14, userName: () => 'cora' },
      /-G uucp cora/,
    ],
    [
      'joined, but still logged in from before',
      { fileGroup: async () => 14 },
      /ben was added to the group uucp.*Log out and in/,
    ],
    ['no group but the administrator’s', { fileGroup: async () => 0 }, /administrator alone.*udev/],
    ['a group without a name', { fileGroup: async () => 4711 }, /administrator alone/],
  ])('%s', async (_what, parts, remedy) => {
    const facts = await portFacts('/dev/p', source(parts));
    const fault = explainPortError(coded('EACCES'), { title: '/dev/p', system: 'linux', facts });
    expect(fault.code).toBe('port-no-permission');
    expect(fault.remedy).toMatch(remedy);
  });

  it.each([
    ['terminal', /^The program terminal has/, /^Close terminal/],
    ['this program itself', /^This program has/, /other device first/],
    [null, /^Another program has/, /^Close the other program/],
  ])('in use by %s', async (holder, what, remedy) => {
    const facts = await portFacts('/dev/p', source({ holder: async () => holder }));
    const fault = explainPortError(coded('EBUSY'), { title: '/dev/p', system: 'linux', facts });
    expect(fault.what).toMatch(what);
    expect(fault.remedy).toMatch(remedy);
  });

  it('is not looked for where the system does not say', async () => {
    const never = source({
      system: 'win32',
      fileGroup: async () => {
        throw new Error('asked');
      },
    });
    expect(await portFacts('COM3', never)).toEqual(NO_FACTS);
  });

  it('is left out where it takes too long; the group is told all the same', async () => {
    const slow = source({ holder: () => new Promise(() => undefined) });
    expect(await portFacts('/dev/p', slow)).toMatchObject({ group: 'dialout', heldBy: null });
  });

  it.runIf(process.platform === 'linux')(
    'is found among the open files of this machine',
    async () => {
      const folder = await mkdtemp(join(tmpdir(), 'taptrue-held-'));
      const path = join(folder, 'port');
      const handle = await open(path, 'w');
      expect((await portFacts(path)).heldBy).toBe('this program itself');
      await handle.close();
      expect((await portFacts(path)).heldBy).toBeNull();
      await rm(folder, { recursive: true });
    },
  );
});

describe('the name of a port', () => {
  it.each([
    ['win32', '\\\\.\\COM12', 'COM12'],
    ['win32', 'com3:', 'COM3'],
    ['win32', 'COM256', 'COM256'],
    ['win32', 'usb:0403:6001:A1', 'usb:0403:6001:A1'],
    ['darwin', '/dev/tty.usbserial-A1', '/dev/cu.usbserial-A1'],
    ['darwin', '/dev/cu.usbserial-A1', '/dev/cu.usbserial-A1'],
    ['linux', '/dev/ttyUSB0', '/dev/ttyUSB0'],
  ])('on %s, %s is opened as %s', (system, typed, opened) => {
    expect(openableName(typed, system)).toBe(opened);
  });

  it.each([
    ['win32', /Numbers over 9 are typed like the others: COM12/],
    ['darwin', /\/dev\/cu\./],
    ['linux', /by-id/],
  ])('that is not there is advised upon as on %s', (system, remedy) => {
    expect(explainPortError(coded('ENOENT'), { title: 'p', system }).remedy).toMatch(remedy);
  });
});
