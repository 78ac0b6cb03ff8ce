import { type AddressInfo, createServer, type Socket } from 'node:net';
import type { Fault } from '@taptrue/protocol';
import { TcpTransport } from '@taptrue/server/devices/transport/tcp.ts';
import { describe, expect, it } from 'vitest';

function opened(port: number) {
  const heard = { opened: 0, bytes: '', closed: [] as (Fault | null)[] };
  const transport = new TcpTransport({ host: '127.0.0.1', port, now: () => 0 });
  transport.open({
    opened: () => {
      heard.opened += 1;
    },
    bytes: (chunk) => {
      heard.bytes += Buffer.from(chunk).toString('latin1');
    },
    closed: (fault) => heard.closed.push(fault),
  });
  return { transport, heard };
}

async function listening(answer: (socket: Socket) => void) {
  const sockets: Socket[] = [];
  const server = createServer((socket) => {
    sockets.push(socket);
    socket.on('error', () => undefined);
    answer(socket);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  const stop = () => {
    for (const socket of sockets) socket.destroy();
    return new Promise((resolve) => server.close(resolve));
  };
  return { port, stop };
}

describe('a socket of a serial device server', () => {
  it('that nothing listens on closes once, with the reason', async () => {
    const { port, stop } = await listening(() => undefined);
    await stop();
    const { heard } = opened(port);
    await expect
      .poll(() => heard.closed.map((fault) => fault?.code))
      .toEqual(['connection-refused']);
    expect(heard.opened).toBe(0);
  });

  it('that hangs up closes once, as lost', async () => {
    const { port, stop } = await listening((socket) => socket.end('\x02\xff', 'latin1'));
    const { heard } = opened(port);
    await expect.poll(() => heard.closed.map((fault) => fault?.code)).toEqual(['connection-lost']);
    expect(heard).toMatchObject({ opened: 1, bytes: '\x02\xff' });
    await stop();
  });

  it('takes requests, and no more of them than it lets go of', async () => {
    const { port, stop } = await listening((socket) => socket.pause());
    const { transport, heard } = opened(port);
    await expect.poll(() => heard.opened).toBe(1);
    for (let written = 0; written < 64 * 1024 && transport.writesDropped === 0; written += 1) {
      transport.write(Buffer.alloc(1024));
    }
    expect(transport.writesDropped).toBe(1);
    await transport.close();
    expect(heard.closed).toEqual([null]);
    await stop();
  });
});
