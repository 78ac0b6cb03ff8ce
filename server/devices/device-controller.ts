import { realpath } from 'node:fs/promises';
import {
  type Answer,
  hasLines,
  type LinkConfig,
  type LinkName,
  type LinkReport,
  type LinkSource,
  type PortDescription,
  type PortsSection,
  type Reading,
  type RecordEntryOf,
} from '@taptrue/protocol';
import { refused } from '../state/answers.ts';
import type { DemoDoor } from './demo/demo-door.ts';
import { noDemo } from './demo/no-demo.ts';
import { shapeNotKnown } from './formats/shape-not-known.ts';
import type { ShapeTable } from './formats/shape-table.ts';
import { DeviceHealth, type HealthChange } from './health/device-health.ts';
import type { Clock } from './transport/clock.ts';
import { Link } from './transport/keep-open.ts';
import { LineTurns } from './transport/line-turns.ts';
import type { OpenSerial } from './transport/maker-for.ts';
import { overhear } from './transport/overhear.ts';
import { PortShare, shareKeyOf } from './transport/share-port.ts';
import { sourceFor } from './transport/source-for.ts';
import { PortWatch } from './transport/watch-ports.ts';
import { isOnSerialPort, isSameSource, withIdentity } from './transport/which-port.ts';
import { UnreadKept } from './unread-kept.ts';

const LINK_NAMES = ['indicator', 'readout'] as const;
/** More ports than this are counted, not listed: a page of them helps nobody. */
const MOST_PORTS = 64;

export interface DeviceRoomOptions {
  clock: Clock;
  demo: DemoDoor | null;
  /** The device each link was last used with, from the bench's memory. */
  remembered: Record<LinkName, LinkConfig | null>;
  onReading(link: LinkName, reading: Reading): void;
  /** A reading of the second channel that is listened to. */
  onSecond(link: LinkName, reading: Reading): void;
  onReport(link: LinkName, report: LinkReport): void;
  onPorts(ports: PortsSection): void;
  /** Faults of the device itself that begin or are over. */
  onHealth(link: LinkName, change: HealthChange): void;
  /** The line shapes that can be named here, the shop's own among them. */
  shapes(): ShapeTable;
  /** Raw bytes as they came, understood or not; null: another device is opened, what came before is not its own. */
  onBytes(link: LinkName, chunk: Uint8Array | null): void;
  /** What came and gave no reading is kept all the same. */
  record(entry: RecordEntryOf<'unread'>): void;
  /** Another device than the one that was nudged: it may count the other way. */
  onOtherDevice(link: LinkName): void;
  /** Left out: ports of this computer. */
  openSerial?: OpenSerial;
}

/** The devices of a bench: which are connected, opened and closed one at a time. */
export class DeviceController {
  readonly #options: DeviceRoomOptions;
  readonly #links: Partial<Record<LinkName, Link>> = {};
  readonly #configs: Record<LinkName, LinkConfig | null> = { indicator: null, readout: null };
  /** The device each nudge was done with, also after it was disconnected. */
  readonly #nudgedWith: Record<LinkName, LinkConfig | null>;
  readonly #watch: PortWatch;
  readonly #share: PortShare;
  readonly #turns: LineTurns;
  readonly #health = {
    indicator: new DeviceHealth('indicator'),
    readout: new DeviceHealth('readout'),
  };
  readonly #unread: Record<LinkName, UnreadKept>;
  #work: Promise<unknown> = Promise.resolve();

  constructor(options: DeviceRoomOptions) {
    this.#options = options;
    const keep = (entry: RecordEntryOf<'unread'>) => options.record(entry);
    this.#unread = {
      indicator: new UnreadKept('indicator', keep),
      readout: new UnreadKept('readout', keep),
    };
    this.#nudgedWith = { ...options.remembered };
    this.#share = new PortShare(() => options.clock.now());
    this.#turns = new LineTurns(options.clock);
    this.#watch = new PortWatch({ clock: options.clock, onChange: () => this.#tellPorts() });
  }

  /** What is connected now, to be remembered. */
  get configs(): Record<LinkName, LinkConfig | null> {
    return { ...this.#configs };
  }

  /** The device that is read by this line shape now; null: none. */
  readBy(shape: string): LinkName | null {
    const isReadBy = (name: LinkName) => {
      const config = this.#configs[name];
      return config !== null && hasLines(config.source) && config.shape === shape;
    };
    return LINK_NAMES.find(isReadBy) ?? null;
  }

  /** The device that is read from this port or address now, however it is read; null: none. */
  readFrom(source: LinkSource): LinkName | null {
    const { path } = isOnSerialPort(source) ? source : { path: null };
    const port = this.#watch.ports.find((known) => path === known.path || path === known.identity);
    const isReadFrom = (name: LinkName) => {
      const used = this.#configs[name]?.source;
      return used !== undefined && placeOf(used) === placeOf(source);
    };
    return (port && userOf(port, this.#configs)) ?? LINK_NAMES.find(isReadFrom) ?? null;
  }

  /** Whether both are one port or address: a port has a name and an identity. */
  isSamePlace(one: LinkSource, other: LinkSource): boolean {
    const placeKnown = (source: LinkSource) => {
      if (!isOnSerialPort(source)) return placeOf(source);
      const { path, identity = path } = source;
      const port = this.#watch.ports.find(
        (known) => path === known.path || identity === known.identity,
      );
      return port?.path ?? path;
    };
    return placeKnown(one) === placeKnown(other);
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
    await this.#watch.start();
    this.#tellPorts();
    for (const name of LINK_NAMES) {
      const config = configFor(name);
      if (!config) continue;
      const answer = await this.connect(name, config);
      if (!answer.ok) onRefused(name, answer);
    }
  }

  async close(): Promise<void> {
    this.#watch.stop();
    await Promise.all(Object.values(this.#links).map((link) => link?.close()));
  }

  /** Two screens that connect at once would open a device twice and close it once. */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#work.then(work);
    this.#work = done.catch(() => undefined);
    return done;
  }

  async #connect(name: LinkName, asked: LinkConfig): Promise<Answer> {
    const { clock, demo, onReading, onReport, onOtherDevice, onBytes } = this.#options;
    const config = await this.#identified(asked);
    const shapes = this.#options.shapes();
    const shape = shapes.named(config.shape);
    if (!shape && hasLines(config.source)) return refused(shapeNotKnown(config.shape, shapes.all));
    if (config.source.kind === 'simulated' && !demo) return refused(noDemo());
    await this.#links[name]?.close();
    const before = this.#nudgedWith[name];
    if (!before || !isSameDevice(before, config)) this.#anotherDevice(name);
    if (before && !isSameDevice(before, config)) onOtherDevice(name);
    this.#nudgedWith[name] = config;
    onBytes(name, null);
    const lineKey = shareKeyOf(config.source, shape);
    const link = new Link({
      name,
      config,
      clock,
      source: sourceFor({
        name,
        config,
        shape,
        clock,
        simulatedPipes: (device) => demo!.pipes(device),
        through: (maker) =>
          overhear(this.#share.through(lineKey, maker), (chunk) => onBytes(name, chunk)),
        ...(this.#options.openSerial && { openSerial: this.#options.openSerial }),
        turnOn: (holdsMs) => this.#turns.on(lineKey, holdsMs),
      }),
      onReading: (reading) => {
        onReading(name, reading);
        this.#tellHealth(name, this.#health[name].reading(reading, link.trigger));
      },
      onSecond: (reading) => this.#options.onSecond(name, reading),
      onUnread: (text) => this.#unread[name].take(text, clock.now()),
      onReport: (report) => {
        onReport(name, report);
        this.#tellHealth(name, this.#health[name].report(report, clock.now()));
      },
    });
    this.#links[name] = link;
    this.#configs[name] = config;
    link.open();
    this.#tellPorts();
    return { ok: true, note: `The ${name} is being opened.` };
  }

  async #disconnect(name: LinkName): Promise<Answer> {
    const link = this.#links[name];
    await link?.close();
    delete this.#links[name];
    this.#configs[name] = null;
    this.#tellPorts();
    if (link) this.#options.onReport(name, { ...link.report(), config: null });
    return { ok: true, note: `The ${name} is closed.` };
  }

  #anotherDevice(name: LinkName): void {
    this.#tellHealth(name, this.#health[name].end());
    this.#health[name] = new DeviceHealth(name);
  }

  #tellHealth(name: LinkName, change: HealthChange): void {
    if (change.raised.length > 0 || change.over.length > 0) this.#options.onHealth(name, change);
  }

  /** Which device is meant, noted now: tomorrow its port may have another name. */
  async #identified(config: LinkConfig): Promise<LinkConfig> {
    const { source } = config;
    if (!isOnSerialPort(source)) return config;
    await this.#watch.lookNow();
    const realPath = await realpath(source.path).catch(() => null);
    return { ...config, source: withIdentity(source, this.#watch.ports, realPath) };
  }

  #tellPorts(): void {
    const { ports } = this.#watch;
    this.#options.onPorts({
      ports: ports
        .slice(0, MOST_PORTS)
        .map((port) => ({ ...port, usedBy: userOf(port, this.#configs) })),
      leftOut: Math.max(0, ports.length - MOST_PORTS),
      watched: true,
    });
  }
}

function userOf(
  port: PortDescription,
  configs: Readonly<Record<LinkName, LinkConfig | null>>,
): LinkName | null {
  const uses = (name: LinkName) => {
    const source = configs[name]?.source;
    if (!source || !isOnSerialPort(source)) return false;
    return source.identity === undefined
      ? source.path === port.path
      : source.identity === port.identity;
  };
  return LINK_NAMES.find(uses) ?? null;
}

/** Port, address or simulated device, as text. */
function placeOf(source: LinkSource): string {
  if (isOnSerialPort(source)) return source.path;
  return source.kind === 'simulated' ? source.device : `${source.host}:${source.port}`;
}

/** The same device read the same way: what was nudged with it holds. */
function isSameDevice(one: LinkConfig, other: LinkConfig): boolean {
  // Another axis beside the one that was nudged changes nothing of that nudge.
  const { source: oneSource, secondChannel: _one, ...oneRest } = one;
  const { source: otherSource, secondChannel: _other, ...otherRest } = other;
  return (
    isSameSource(oneSource, otherSource) && JSON.stringify(oneRest) === JSON.stringify(otherRest)
  );
}
