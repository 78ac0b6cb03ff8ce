import { faultLine } from '@taptrue/protocol';
import { explainPortError } from '@taptrue/server/transport/explain-port-error.ts';
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
