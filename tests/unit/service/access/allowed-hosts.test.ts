import {
  allowedHosts,
  hostNameOf,
  isLoopbackAddress,
  originFits,
  ownAddresses,
} from '@taptrue/server/service/access/allowed-hosts.ts';
import { expect, test } from 'vitest';

test.each([
  ['localhost', 'localhost'],
  ['LocalHost:4757', 'localhost'],
  ['127.0.0.1:4757', '127.0.0.1'],
  ['[::1]:4757', '[::1]'],
  ['mill-3.local', 'mill-3.local'],
  [undefined, null],
  ['', null],
  ['localhost:', null],
  ['localhost:123456', null],
  ['user@localhost', null],
  ['localhost/evil', null],
  ['local host', null],
  ['::1', null],
])('the host of %j is %j', (header, name) => {
  expect(hostNameOf(header)).toBe(name);
});

test.each([
  [undefined, 'localhost:4757', true],
  ['http://localhost:4757', 'localhost:4757', true],
  ['https://localhost:4757', 'localhost:4757', true],
  ['http://localhost', 'localhost:4757', false],
  ['http://localhost:4758', 'localhost:4757', false],
  ['http://evil.example', 'localhost:4757', false],
  ['http://localhost:4757.evil.example', 'localhost:4757', false],
  ['null', 'localhost:4757', false],
  ['', 'localhost:4757', false],
  ['http://localhost:4757', undefined, false],
  ['file://', 'localhost:4757', false],
])('a page of %j that calls %j is ours: %s', (origin, host, fits) => {
  expect(originFits(origin, host)).toBe(fits);
});

test.each([
  ['127.0.0.1', true],
  ['127.8.9.1', true],
  ['::1', true],
  ['::ffff:127.0.0.1', true],
  ['192.168.1.20', false],
  ['::ffff:192.168.1.20', false],
  ['10.127.0.1', false],
  ['fe80::1', false],
  [undefined, false],
])('a socket from %j is from this machine: %s', (address, isLocal) => {
  expect(isLoopbackAddress(address)).toBe(isLocal);
});

test('what is printed as an address is one that the service listens on: IPv4, no loopback', () => {
  for (const address of ownAddresses()) {
    expect(address).toMatch(/^\d+\.\d+\.\d+\.\d+$/);
    expect(isLoopbackAddress(address)).toBe(false);
  }
});

test('a bench for this computer only answers to loopback names only', () => {
  expect([...allowedHosts(false)].sort()).toEqual(['127.0.0.1', '[::1]', 'localhost']);
});

test('a bench that tablets reach answers to its own addresses too', () => {
  const hosts = allowedHosts(true);
  for (const address of ownAddresses()) expect(hosts.has(address)).toBe(true);
  expect(hosts.has('localhost')).toBe(true);
  expect(hosts.has('evil.example')).toBe(false);
});
