import { createServer, type Server, type Socket } from 'node:net';
import type { LengthUnit } from '@taptrue/protocol';
import { answerTo, type ShownNow } from './registers.ts';

/** Transaction, protocol, length of what follows; then the unit. Modbus messaging on TCP/IP V1.0b, 3.1.3. */
const HEADER_BYTES = 6;
const LONGEST_LENGTH = 254;
/** A bench opens two; one that opens more than this has forgotten to close them. */
const MOST_CONNECTIONS = 16;

/** Several units behind one address, as a gateway has them. A unit that is not there is answered for: no way to it. */
export class ModbusHost {
  readonly #units: ReadonlyMap<number, ShownNow>;
  readonly #unit: LengthUnit;
  readonly #sockets = new Set<Socket>();
  #server: Server | null = null;

  constructor(units: ReadonlyMap<number, ShownNow>, unit: LengthUnit) {
    this.#units = units;
    this.#unit = unit;
  }

  /** On loopback; 0: any free port. Resolves to the port; rejects with what the system says. */
  async start(port: number): Promise<number> {
    const server = createServer((socket) => this.#connected(socket));
    server.maxConnections = MOST_CONNECTIONS;
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(port, '127.0.0.1', resolve);
    });
    this.#server = server;
    const address = server.address();
    return address !== null && typeof address === 'object' ? address.port : port;
  }

  async stop(): Promise<void> {
    const server = this.#server;
    this.#server = null;
    for (const socket of this.#sockets) socket.destroy();
    if (server !== null) await new Promise((resolve) => server.close(resolve));
  }

  #connected(socket: Socket): void {
    let heard: Buffer = Buffer.alloc(0);
    this.#sockets.add(socket);
    socket.on('error', () => undefined);
    socket.on('close', () => this.#sockets.delete(socket));
    socket.on('data', (bytes) => {
      let rest: Buffer = Buffer.concat([heard, bytes]);
      while (rest.length > HEADER_BYTES) {
        const length = rest.readUInt16BE(4);
        if (rest.readUInt16BE(2) !== 0 || length < 2 || length > LONGEST_LENGTH) {
          socket.destroy();
          return;
        }
        if (rest.length < HEADER_BYTES + length) break;
        socket.write(this.#answered(rest.subarray(0, HEADER_BYTES + length)));
        rest = rest.subarray(HEADER_BYTES + length);
      }
      heard = Buffer.from(rest);
    });
  }

  #answered(request: Buffer): Uint8Array {
    const shown = this.#units.get(request[HEADER_BYTES]!);
    const asked = request.subarray(HEADER_BYTES + 1);
    const answer = shown ? answerTo(asked, shown, this.#unit) : noWay(asked[0]!);
    const frame = Buffer.concat([request.subarray(0, HEADER_BYTES + 1), answer]);
    frame.writeUInt16BE(1 + answer.length, 4);
    return frame;
  }
}

/** The gateway has no way to this unit. */
function noWay(code: number): Uint8Array {
  return Buffer.from([code | 0x80, 0x0b]);
}
