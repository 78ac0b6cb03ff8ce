import type { Answer, LinkConfig, LinkName, LinkReport, Reading } from '@taptrue/protocol';
import type { DemoDoor } from './demo-door.ts';
import { noDemo, refuse, shapeNotKnown } from './service-refusals.ts';
import { shapeNamed } from './shapes/shape-table.ts';
import { SYSTEM_CLOCK } from './transport/clock.ts';
import { Link } from './transport/keep-open.ts';
import { sourceFor } from './transport/source-for.ts';

const LINK_NAMES = ['indicator', 'readout'] as const;

export interface DeviceRoomOptions {
  demo: DemoDoor | null;
  /** The device each link was last used with, from the bench's memory. */
  remembered: Record<LinkName, LinkConfig | null>;
  onReading(link: LinkName, reading: Reading): void;
  onReport(link: LinkName, report: LinkReport): void;
  /** Another device than the one that was nudged: it may count the other way. */
  onOtherDevice(link: LinkName): void;
}

/** The devices of a bench: which are connected, opened and closed one at a time. */
export class DeviceRoom {
  readonly #options: DeviceRoomOptions;
  readonly #links: Partial<Record<LinkName, Link>> = {};
  readonly #configs: Record<LinkName, LinkConfig | null> = { indicator: null, readout: null };
  /** The device each nudge was done with, also after it was disconnected. */
  readonly #nudgedWith: Record<LinkName, LinkConfig | null>;
  #work: Promise<unknown> = Promise.resolve();

  constructor(options: DeviceRoomOptions) {
    this.#options = options;
    this.#nudgedWith = { ...options.remembered };
  }

  /** What is connected now, to be remembered. */
  get configs(): Record<LinkName, LinkConfig | null> {
    return { ...this.#configs };
  }

  connect(name: LinkName, config: LinkConfig): Promise<Answer> {
    return this.#inTurn(() => this.#connect(name, config));
  }

  disconnect(name: LinkName): Promise<Answer> {
    return this.#inTurn(() => this.#disconnect(name));
  }

  /** Connects what is to be connected at the start; what cannot be is told by `onRefused`. */
  async connectFirst(
    configFor: (name: LinkName) => LinkConfig | null,
    onRefused: (name: LinkName, answer: Extract<Answer, { ok: false }>) => void,
  ): Promise<void> {
    for (const name of LINK_NAMES) {
      const config = configFor(name);
      if (!config) continue;
      const answer = await this.connect(name, config);
      if (!answer.ok) onRefused(name, answer);
    }
  }

  async close(): Promise<void> {
    await Promise.all(Object.values(this.#links).map((link) => link?.close()));
  }

  /** Two screens that connect at once would open a device twice and close it once. */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#work.then(work);
    this.#work = done.catch(() => undefined);
    return done;
  }

  async #connect(name: LinkName, config: LinkConfig): Promise<Answer> {
    const { demo, onReading, onReport, onOtherDevice } = this.#options;
    const shape = shapeNamed(config.shape);
    if (!shape) return refuse(shapeNotKnown(config.shape));
    if (config.source.kind === 'simulated' && !demo) return refuse(noDemo());
    await this.#links[name]?.close();
    const before = this.#nudgedWith[name];
    if (before && JSON.stringify(before) !== JSON.stringify(config)) onOtherDevice(name);
    this.#nudgedWith[name] = config;
    const link = new Link({
      name,
      config,
      clock: SYSTEM_CLOCK,
      source: sourceFor({
        name,
        config,
        shape,
        clock: SYSTEM_CLOCK,
        simulatedPipes: (device) => demo!.pipes(device),
      }),
      onReading: (reading) => onReading(name, reading),
      onReport: (report) => onReport(name, report),
    });
    this.#links[name] = link;
    this.#configs[name] = config;
    link.open();
    return { ok: true, note: `The ${name} is being opened.` };
  }

  async #disconnect(name: LinkName): Promise<Answer> {
    const link = this.#links[name];
    await link?.close();
    delete this.#links[name];
    this.#configs[name] = null;
    if (link) this.#options.onReport(name, { ...link.report(), config: null });
    return { ok: true, note: `The ${name} is closed.` };
  }
}
