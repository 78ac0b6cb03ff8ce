import type { LinkName } from '@taptrue/protocol';
import type { DemoBench } from '../demo-bench.ts';
import { openPty, type PtyPort } from '../over-pty.ts';
import { COUNTS_AT, FLOAT_AT, type ShownNow } from './registers.ts';
import { RtuLine } from './rtu-line.ts';
import { ModbusHost } from './tcp-host.ts';

/** Both devices of a bench on one line, told apart by their numbers. */
export const UNIT_OF: Readonly<Record<LinkName, number>> = { indicator: 1, readout: 2 };

export interface RegistersOptions {
  bench: DemoBench;
  unit: 'in' | 'mm';
  /** TCP port on loopback; 0: any free one; null: none. */
  tcpPort: number | null;
  /** A serial line on a pseudo-terminal as well. */
  onPty: boolean;
  /** A name for that terminal which stays; null: as the system names it. */
  link: string | null;
}

/** A simulated bench whose indicator and readout are read as registers, by TCP, over a serial line, or both. */
export class BenchRegisters {
  readonly #options: RegistersOptions;
  readonly #units: ReadonlyMap<number, ShownNow>;
  #host: ModbusHost | null = null;
  #port: PtyPort | null = null;
  #tcpPort = 0;

  constructor(options: RegistersOptions) {
    const { bench } = options;
    this.#options = options;
    this.#units = new Map([
      [UNIT_OF.indicator, () => bench.indicator.shownNow],
      [UNIT_OF.readout, () => bench.readout.shownNow],
    ]);
  }

  /** Rejects with NoPseudoTerminal where the system has none, or with what it says of the TCP port. */
  async start(): Promise<void> {
    const { tcpPort, onPty, link, unit } = this.#options;
    if (tcpPort !== null) {
      const host = new ModbusHost(this.#units, unit);
      this.#tcpPort = await host.start(tcpPort);
      this.#host = host;
    }
    if (!onPty) return;
    const port = await openPty(link);
    this.#port = port;
    const line = new RtuLine(this.#units, unit, (bytes) => port.write(bytes));
    port.onBytes((bytes) => line.hear(bytes));
  }

  async stop(): Promise<void> {
    await this.#host?.stop();
    await this.#port?.close();
    this.#host = null;
    this.#port = null;
  }

  /** What the service is started with to read each line; empty where there is none. */
  serveOptions(): string[] {
    const places = [
      this.#host && `modbus-tcp://127.0.0.1:${this.#tcpPort}`,
      this.#port && `modbus-rtu:${this.#port.path}`,
    ];
    return places.filter((place) => place !== null).map((place) => this.#bothFrom(place));
  }

  #bothFrom(place: string): string {
    const { unit } = this.#options;
    const counts = `holding=${COUNTS_AT},as=int32,count=${unit === 'mm' ? '0.0001' : '0.00001'}`;
    const float = `input=${FLOAT_AT},as=float32`;
    return [
      `--indicator ${place},unit=${UNIT_OF.indicator},${counts} --indicator-unit ${unit}`,
      `--readout ${place},unit=${UNIT_OF.readout},${float} --readout-unit ${unit}`,
    ].join(' ');
  }
}
