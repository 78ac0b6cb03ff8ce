import { EventEmitter } from 'node:events';
import { createServer, type Server, type Socket } from 'node:net';
import { openPty } from '@taptrue/simulators/over-pty.ts';
import { server as jsmodbus } from 'jsmodbus';
import type { SerialPort } from 'serialport';

/** A Modbus server of a library that nobody here wrote, with registers that a test sets. */
export interface ModbusServer {
  /** Holding registers (function 3) and input registers (function 4), two bytes each. */
  readonly holding: Buffer;
  readonly input: Buffer;
  stop(): Promise<void>;
}

const REGISTERS = 256;

export async function modbusTcpServer(): Promise<ModbusServer & { port: number }> {
  const sockets = new Set<Socket>();
  const net: Server = createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => undefined);
    socket.on('close', () => sockets.delete(socket));
  });
  const modbus = new jsmodbus.TCP(net, registers());
  await new Promise<void>((resolve) => net.listen(0, '127.0.0.1', resolve));
  const address = net.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return {
    port: address.port,
    holding: modbus.holding,
    input: modbus.input,
    async stop() {
      for (const socket of sockets) socket.destroy();
      await new Promise((resolve) => net.close(resolve));
    },
  };
}

/** The same on a pseudo-terminal, which carries bytes as a serial line does and knows no parity. */
export async function modbusRtuServer(): Promise<ModbusServer & { path: string }> {
  const pty = await openPty();
  const line = new EventEmitter() as EventEmitter & {
    write(bytes: Buffer, written?: () => void): void;
  };
  line.write = (bytes, written) => {
    pty.write(bytes);
    written?.();
  };
  pty.onBytes((bytes) => line.emit('data', Buffer.from(bytes)));
  const modbus = new jsmodbus.RTU(line as unknown as SerialPort, registers());
  return {
    path: pty.path,
    holding: modbus.holding,
    input: modbus.input,
    stop: () => pty.close(),
  };
}

function registers() {
  return { holding: Buffer.alloc(2 * REGISTERS), input: Buffer.alloc(2 * REGISTERS) };
}
