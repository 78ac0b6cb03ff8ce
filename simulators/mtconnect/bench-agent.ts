import type { DemoSection } from '@taptrue/protocol';
import type { SimulatorClock } from '../clock.ts';
import { MtconnectAgent } from './agent.ts';

/** What an agent tells of a simulated bench. */
interface Table {
  section(): Pick<DemoSection, 'tableMm'>;
}

/** As often as a control tells its positions. */
const TOLD_EVERY_MS = 50;

/**
 * The simulated bench as a machine with an agent: its table is the X axis. The saddle stands at nought; only a
 * position that has changed is an observation.
 */
export class BenchAgent {
  readonly #agent = new MtconnectAgent({ device: 'simulated-mill' });
  readonly #bench: Table;
  readonly #clock: SimulatorClock;
  #told = '';
  #stopTelling: (() => void) | null = null;

  constructor(bench: Table, clock: SimulatorClock) {
    this.#bench = bench;
    this.#clock = clock;
  }

  /** On loopback; 0: any free port. Resolves to the port; rejects with what the system says. */
  async start(port: number): Promise<number> {
    this.#agent.set('y-actual', '0.0000');
    this.#tell();
    const opened = await this.#agent.start(port);
    this.#stopTelling = this.#clock.every(TOLD_EVERY_MS, () => this.#tell());
    return opened;
  }

  async stop(): Promise<void> {
    this.#stopTelling?.();
    this.#stopTelling = null;
    await this.#agent.stop();
  }

  #tell(): void {
    const text = this.#bench.section().tableMm.toFixed(4);
    if (text === this.#told) return;
    this.#told = text;
    this.#agent.set('x-actual', text);
  }
}
