import { type AddressInfo, createServer, type Server, type Socket } from 'node:net';
import type { Device } from './device.ts';

/** What a serial device server is on the network: a socket that passes bytes on. */
export async function tcpDevice(): Promise<Device> {
  let heard = '';
  let port = 0;
  let server: Server | null = null;
  const sockets = new Set<Socket>();

  async function listen(): Promise<void> {
    const listening = createServer((socket) => {
      socket.setNoDelay(true);
      sockets.add(socket);
      socket.on('data', (chunk) => {
        heard += chunk.toString('latin1');
      });
      socket.on('error', () => undefined);
      socket.on('close', () => sockets.delete(socket));
    });
    server = listening;
    await new Promise<void>((resolve) => listening.listen(port, '127.0.0.1', resolve));
    port = (listening.address() as AddressInfo).port;
  }

  async function unplug(): Promise<void> {
    const closing = server;
    server = null;
    const closed = new Promise((resolve) => (closing ? closing.close(resolve) : resolve(null)));
    for (const socket of sockets) socket.destroy();
    await closed;
  }

  await listen();
  return {
    source: { kind: 'tcp', host: '127.0.0.1', port },
    pipe: null,
    send(text) {
      for (const socket of sockets) socket.write(Buffer.from(text, 'latin1'));
    },
    unplug,
    async replug() {
      heard = '';
      await listen();
    },
    heard: () => heard,
    stop: unplug,
  };
}
