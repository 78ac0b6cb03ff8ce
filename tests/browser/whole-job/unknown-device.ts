import { createServer, type Socket } from 'node:net';
import type { LineShape, ReadingStatus } from '@taptrue/protocol';
import { speak } from '@taptrue/simulators/speak.ts';

/** `<2|-0.0125|RUN|a>`: bracketed, channel first, words of its own for the status and a letter for the unit. */
export const UNKNOWN_SHAPE: LineShape = {
  name: 'never-seen',
  title: 'ships nowhere',
  framing: { terminator: '\r\n', longestBytes: 40 },
  fields: [
    { kind: 'literal', text: '<' },
    { kind: 'channel', allowed: ['2'] },
    { kind: 'literal', text: '|' },
    { kind: 'sign', map: { '-': -1, '+': 1 } },
    { kind: 'digits', atLeast: 5, atMost: 8, point: { kind: 'written', mark: '.' } },
    { kind: 'literal', text: '|' },
    { kind: 'status', map: { RUN: 'ok', STP: 'hold' } },
    { kind: 'literal', text: '|' },
    { kind: 'unit', map: { a: 'mm', b: 'in' } },
    { kind: 'literal', text: '>' },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: { dtr: true, rts: true },
  port: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  samples: [],
};

export interface UnknownDevice {
  port: number;
  /** Every value it has sent, millimetres as its screen showed them. */
  sent: ReadonlySet<number>;
  close(): Promise<void>;
}

/** A device behind a serial device server that streams twenty lines a second of a shape that ships nowhere. */
export async function unknownDevice(): Promise<UnknownDevice> {
  const sent = new Set<number>();
  const sockets = new Set<Socket>();
  let count = 0;
  const timer = setInterval(() => {
    count += 1;
    const value = Number((-0.0125 + 0.0007 * ((count * 7) % 50)).toFixed(4));
    const status: ReadingStatus = count % 9 === 0 ? 'hold' : 'ok';
    sent.add(value);
    const said = { value, unit: 'mm', decimals: 4, status, channel: '2', counter: count } as const;
    const spoken = speak(UNKNOWN_SHAPE, { ...said, terse: false });
    if (!spoken.ok) throw new Error(spoken.why);
    for (const socket of sockets) socket.write(spoken.bytes);
  }, 50);
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    socket.on('error', () => sockets.delete(socket));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  return {
    port: typeof address === 'object' && address ? address.port : 0,
    sent,
    close: () => {
      clearInterval(timer);
      for (const socket of sockets) socket.destroy();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
}
