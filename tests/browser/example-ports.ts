import type { BenchState, LineView, PortRow } from '@taptrue/protocol';
import { exampleReading, liveLink } from './example-parts.ts';
import { nothingSet } from './example-states.ts';

const free = { usedBy: null, hindrance: null } as const;

/** What a shop's computer may have: one known by its number, one by its socket, one that may not be opened. */
export function examplePorts(): PortRow[] {
  return [
    {
      path: '/dev/ttyS0',
      identity: '/dev/ttyS0',
      title: 'console of this computer: not for a device',
      knownBy: 'port name',
      usedBy: null,
      hindrance: {
        code: 'port-no-permission',
        what: 'This user may not open /dev/ttyS0.',
        got: 'EACCES: permission denied',
        remedy:
          'Add the user to the group that owns the port: sudo usermod -a -G dialout anna. Then log out and in again.',
      },
    },
    {
      ...free,
      path: '/dev/ttyUSB0',
      identity: 'usb:0403:6001:K7Q1:if00-port0',
      title: 'USB serial lead',
      knownBy: 'serial number',
      usedBy: 'indicator',
    },
    {
      ...free,
      path: '/dev/ttyUSB1',
      identity: '/dev/serial/by-path/pci-0000:00:14.0-usb-0:2:1.0-port0',
      title: 'USB adapter',
      knownBy: 'socket',
    },
  ];
}

export function exampleLine(): LineView {
  const frame = (digits: string, hex: string) => ({
    text: `+0.${digits}\\r`,
    hex,
    understood: `0.${digits} in`,
  });
  return {
    rows: [
      frame('00214', '2b 30 2e 30 30 32 31 34 0d'),
      frame('00215', '2b 30 2e 30 30 32 31 35 0d'),
      { text: '\\xfe\\x80\\x02~\\x98', hex: 'fe 80 02 7e 98', understood: '' },
      frame('00214', '2b 30 2e 30 30 32 31 34 0d'),
    ],
    bytes: {
      text: '+0.00215\\r\\n+0.00214\\r\\n',
      hex: '2b 30 2e 30 30 32 31 35 0d 0a 2b 30 2e 30 30 32 31 34 0d 0a',
    },
    usualGapMs: 100,
    jitterMs: 12.4,
    sinceLastMs: 40,
  };
}

/** One real device live on a port that is known by its number, the other not set; ports in plenty. */
export function realDevice(): BenchState {
  const state = nothingSet();
  const live = liveLink(false);
  return {
    ...state,
    links: {
      ...state.links,
      indicator: {
        ...live,
        readingsPerSecond: 10,
        line: exampleLine(),
        config: {
          ...live.config!,
          source: {
            kind: 'serial',
            path: '/dev/ttyUSB3',
            identity: 'usb:0403:6001:K7Q1:if00-port0',
            settings: null,
          },
        },
      },
    },
    live: { ...state.live, indicator: exampleReading(0.00214), ageMs: 40 },
    ports: { ports: examplePorts(), leftOut: 0, watched: true },
    settings: {
      file: '/home/shop/.local/share/taptrue/settings.json',
      fileRead: true,
      fault: null,
      rows: [
        {
          name: 'port',
          value: '4757',
          from: 'default',
          what: 'Port of the page; 0: any free one',
          variable: 'TAPTRUE_PORT',
        },
        {
          name: 'name',
          value: 'Mill 2',
          from: 'settings file',
          what: 'Name of the bench; each has a memory of its own',
          variable: 'TAPTRUE_NAME',
        },
        {
          name: 'indicator-channel',
          value: '',
          from: 'default',
          what: 'Channel or axis of the indicator',
          variable: 'TAPTRUE_INDICATOR_CHANNEL',
        },
      ],
    },
  };
}
