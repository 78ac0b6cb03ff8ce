import { zeroCounters } from '@taptrue/protocol';
import { type Private, redact } from '@taptrue/server/cli/report/redact.ts';
import { type ReportFacts, reportText } from '@taptrue/server/cli/report/report-text.ts';
import { describe, expect, it } from 'vitest';

const secret: Private = {
  homeFolder: '/home/anna',
  userName: 'anna',
  hostName: 'millpc',
  names: ['Mill by the window', 'Jo’s tablet'],
};

describe('what is left out of a report', () => {
  it.each([
    ['/home/anna/.local/share/taptrue', '(home)/.local/share/taptrue'],
    ['/home/ben/settings.json', '/home/(user)/settings.json'],
    ['C:\\Users\\Ben\\AppData', 'C:\\Users\\(user)\\AppData'],
    ['C:\\\\Users\\\\Ben\\\\AppData', 'C:\\\\Users\\\\(user)\\\\AppData'],
    ['usermod -a -G dialout anna', 'usermod -a -G dialout (user)'],
    ['on MILLPC', 'on (computer)'],
    ['bench Mill by the window', 'bench (name)'],
    ['usb:0403:6001:NOTREAL1:if00-port0', 'usb:0403:6001:(serial number):if00-port0'],
    ['usb:0403:6001:NOTREAL1', 'usb:0403:6001:(serial number)'],
    [
      'the adapter with serial number NOTREAL1 (USB 0403:6001)',
      'the adapter with serial number (serial number) (USB 0403:6001)',
    ],
    ['/dev/serial/by-id/usb-maker_lead_NOTREAL1-if00', '/dev/serial/by-id/(name)'],
    ['/dev/cu.usbserial-NOTREAL1', '/dev/cu.usbserial-(serial number)'],
    ['tcp://millserver:4001', 'tcp://(address):4001'],
    ['"host":"192.168.1.20","port":4001', '"host":"(address)","port":4001'],
    ['fe80:0:0:0:1:2:3:4', '(address)'],
    ['write to anna@shop.example', 'write to (address)'],
    ['token 0123456789abcdef0123456789abcdef', 'token (token)'],
    ['pairing code 482915', 'pairing code (code)'],
  ])('%s', (text, safe) => {
    expect(redact(text, secret)).toBe(safe);
  });

  it.each([
    'usb:0403:6001 known by socket',
    '/dev/serial/by-path/pci-0000:00:14.0-usb-0:2:1.0-port0',
    '/dev/ttyUSB0; COM12',
    'annals of the shop',
    '+0.00214\\r',
    'bytes 482915',
  ])('%s stays: it is needed and says nothing of anyone', (text) => {
    expect(redact(text, secret)).toBe(text);
  });
});

describe('the report', () => {
  const facts: ReportFacts = {
    version: '1.0',
    system: [['system', 'linux x64']],
    ports: [
      {
        path: '/dev/ttyUSB0',
        identity: 'usb:0403:6001:K7Q1',
        title: 'lead',
        knownBy: 'serial number',
        hindrance: { code: 'port-no-permission', what: '', got: '', remedy: 'Join the group.' },
      },
    ],
    settings: {
      file: '/home/anna/settings.json',
      fileRead: true,
      fault: null,
      rows: [
        { name: 'port', value: '4000', from: 'environment', what: '', variable: '' },
        { name: 'name', value: 'bench', from: 'default', what: '', variable: '' },
      ],
    },
    running: {
      health: { screens: 2 },
      links: {
        indicator: {
          state: 'not understood',
          config: {
            source: {
              kind: 'serial',
              path: '/dev/ttyUSB0',
              settings: null,
              identity: 'usb:0403:6001:K7Q1',
            },
            shape: 'signed-decimal',
            unit: 'mm',
            channel: null,
          },
          counters: { ...zeroCounters(), bytes: 7 },
          fault: { code: 'not-understood', what: 'Bytes arrive.', got: '\\xfe', remedy: '' },
          lastText: '\\xfe\\x80',
        },
      },
      faults: [
        { code: 'low-battery', what: 'Low.', got: '', remedy: '', from: 'readout', times: 3 },
      ],
    },
  };

  it('has all a reader needs, and no serial number', () => {
    const text = redact(reportText(facts), secret);
    for (const part of [
      'system: linux x64',
      'port-no-permission: Join the group.',
      'port = 4000 (environment)',
      'screens: 2',
      'indicator: not understood',
      'bytes 7',
      'not-understood: Bytes arrive. Got: \\xfe',
      'readout: low-battery: Low. (3 times)',
    ])
      expect(text).toContain(part);
    expect(text).not.toMatch(/K7Q1|anna/);
    expect(text).not.toContain('name = bench');
  });

  it('says where no service answers', () => {
    expect(reportText({ ...facts, running: null })).toMatch(/does not answer/);
  });
});
