import type { LinkName } from '@taptrue/protocol';
import type { DemoBench } from './demo-bench.ts';
import { onPty, openPty, type PtyPort } from './over-pty.ts';

/** The devices of one simulated bench on pseudo-terminals, to be unplugged and plugged in again. */
export class BenchPorts {
  readonly #bench: DemoBench;
  readonly #names: readonly LinkName[];
  readonly #link: string | null;
  readonly #ports = new Map<LinkName, PtyPort>();

  /** `link`: a path under which the port is found each time; with two devices `-indicator` and `-readout` follow it. */
  constructor(bench: DemoBench, names: readonly LinkName[], link: string | null) {
    this.#bench = bench;
    this.#names = names;
    this.#link = link;
  }

  get paths(): ReadonlyMap<LinkName, string> {
    return new Map([...this.#ports].map(([name, port]) => [name, port.path]));
  }

  get overrunFrames(): number {
    return [...this.#ports.values()].reduce((sum, port) => sum + port.overrunFrames, 0);
  }

  /** Rejects with NoPseudoTerminal where the system has none; nothing stays open then. */
  async plugIn(): Promise<void> {
    try {
      for (const name of this.#names) {
        if (this.#ports.has(name)) continue;
        const port = await openPty(this.#linkFor(name));
        this.#ports.set(name, port);
        const device = this.#bench.device(name);
        device.replug();
        onPty(device, port);
      }
    } catch (error) {
      await this.unplug();
      throw error;
    }
  }

  async unplug(): Promise<void> {
    const ports = [...this.#ports.values()];
    this.#ports.clear();
    for (const name of this.#names) this.#bench.device(name).unplug();
    await Promise.all(ports.map((port) => port.close()));
  }

  #linkFor(name: LinkName): string | null {
    if (this.#link === null) return null;
    return this.#names.length === 1 ? this.#link : `${this.#link}-${name}`;
  }
}
