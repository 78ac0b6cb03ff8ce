import { EventEmitter } from 'node:events';
import ModbusRTU from 'modbus-serial';
import type { ModbusFrame } from './wire.ts';

/** What came of one request: the bytes of the registers, the reason of a refusal, or what was wrong. */
export type RegisterAnswer =
  | { kind: 'registers'; bytes: Uint8Array }
  | { kind: 'refused'; reason: number }
  | { kind: 'not usable'; why: string };

/** The port as the library knows one, over whatever our own transport has open. */
class LibraryPort extends EventEmitter {
  readonly isOpen = true;
  // The library files requests under these; one at a time, so one number does.
  readonly _transactionIdRead = 1;
  readonly _transactionIdWrite = 1;

  constructor(private readonly send: (request: ModbusFrame) => void) {
    super();
  }
  open(opened: (error: null) => void): void {
    opened(null);
  }
  close(closed?: () => void): void {
    closed?.();
  }
  write(request: ModbusFrame): void {
    this.send(request);
  }
}

interface LibraryClient {
  open(opened: () => void): void;
  writeFC3: ReadRegisters;
  writeFC4: ReadRegisters;
}
type ReadRegisters = (
  unit: number,
  address: number,
  count: number,
  done: (error: LibraryError | null, answer?: { buffer: Buffer }) => void,
) => void;
/** The reason of a refusal is missing from the library's types. */
type LibraryError = Error & { modbusCode?: number };

/**
 * Requests and answers through the Modbus library: it makes the frames and checks what answers them. Ports,
 * waits and tries again stay ours, so that a Modbus device is kept open as any other.
 */
export class RegisterAsker {
  private readonly port: LibraryPort;
  private readonly client: LibraryClient;

  constructor(send: (request: ModbusFrame) => void) {
    this.port = new LibraryPort(send);
    this.client = new ModbusRTU(this.port) as unknown as LibraryClient;
    this.client.open(() => undefined);
  }

  /** One at a time: a request that is made while another has no answer takes its place. */
  ask(
    what: { unitId: number; function: 3 | 4; address: number; count: number },
    done: (answer: RegisterAnswer) => void,
  ): void {
    const read = what.function === 3 ? 'writeFC3' : 'writeFC4';
    this.client[read](what.unitId, what.address, what.count, (error, answer) => {
      if (answer !== undefined && error === null) {
        done({ kind: 'registers', bytes: answer.buffer });
      } else if (error?.modbusCode !== undefined) {
        done({ kind: 'refused', reason: error.modbusCode });
      } else {
        done({ kind: 'not usable', why: error?.message ?? 'no registers in it' });
      }
    });
  }

  /** A whole frame came. */
  answered(frame: ModbusFrame): void {
    this.port.emit('data', frame);
  }
}
