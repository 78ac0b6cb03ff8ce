import { join } from 'node:path';
import type { Answer, Command, Fault, LinkConfig, LinkName, Role } from '@taptrue/protocol';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import { Bench } from './bench/bench.ts';
import { firstState } from './bench/first-state.ts';
import { type DemoDoor, startDemo } from './demo-door.ts';
import { DeviceRoom } from './device-room.ts';
import { Access } from './http/access.ts';
import { allowedHosts } from './http/allowed-hosts.ts';
import type { BenchDoor } from './http/bench-door.ts';
import { isPlanCommand, PlanRoom } from './plan-room.ts';
import {
  benchScreenOnly,
  memoryNotKept,
  noDemo,
  refuse,
  tabletNotKnown,
} from './service-refusals.ts';
import { describeShapes } from './shapes/describe-shapes.ts';
import { type BenchMemory, keepUnread, readMemory, writeMemory } from './store/bench-memory.ts';
import { folderNameOf } from './store/data-folder.ts';
import { RecordFile } from './store/record-file.ts';
import { Hub } from './stream/hub.ts';
import { SectionStore } from './stream/section-store.ts';
import { findPorts } from './transport/find-ports.ts';

/** The bench is asked ten times a second whether something is due. */
const TICK_EVERY_MS = 100;
/** What the bench remembers is written this long after the last change: a dragged slider is one write. */
const REMEMBER_AFTER_MS = 500;

export interface ServiceOptions {
  name: string;
  dataFolder: string;
  /** Simulated devices instead of real ones. Nothing is remembered from a demo. */
  demo: boolean;
  demoSeed?: number;
  /** Addresses that reach the service from elsewhere; empty where it listens to this machine only. */
  addresses: readonly string[];
  /** Devices named at the start; they win over remembered ones. */
  connect: Partial<Record<LinkName, LinkConfig>>;
}

/**
 * The running service: one bench with its devices, record, memory and screens. All I/O of the bench is
 * here and in what it owns; commands from every screen pass through `command`, one door.
 */
export class BenchService implements BenchDoor {
  readonly store: SectionStore;
  readonly hub: Hub;
  readonly access: Access;
  readonly hosts: ReadonlySet<string>;
  readonly #options: ServiceOptions;
  readonly #folder: string;
  readonly #bench: Bench;
  readonly plans: PlanRoom;
  readonly #devices: DeviceRoom;
  readonly #demo: DemoDoor | null;
  readonly #ticker: NodeJS.Timeout;
  #record: RecordFile;
  /** Records opened: two jobs begun in one millisecond still have a file each. */
  #records = 0;
  #rememberTimer: NodeJS.Timeout | null = null;
  #writing: Promise<void> = Promise.resolve();
  #closed = false;

  /** Reads what the bench remembers, opens the record, connects what is to be connected. */
  static async start(options: ServiceOptions): Promise<BenchService> {
    const folder = join(options.dataFolder, folderNameOf(options.demo ? 'demo' : options.name));
    const { memory, fault } = options.demo
      ? { memory: null, fault: null }
      : await readMemory(join(folder, 'bench.json'));
    if (fault) await keepUnread(join(folder, 'bench.json'));
    const service = new BenchService(options, folder, memory);
    if (fault) service.#bench.raise('memory', fault, service.now());
    await service.plans.open();
    await service.#devices.connectFirst(
      (name) =>
        options.connect[name] ?? service.#demo?.configFor(name) ?? memory?.links[name] ?? null,
      (name, { fault }) => service.#bench.raise(name, fault, service.now()),
    );
    return service;
  }

  private constructor(options: ServiceOptions, folder: string, memory: BenchMemory | null) {
    this.#options = options;
    this.#folder = folder;
    this.store = new SectionStore(firstState(options.name, PROTOCOL_VERSION));
    this.access = new Access(options.addresses, memory?.tablets ?? [], () => {
      this.hub.setAccess(this.access.section());
      this.#rememberSoon();
    });
    this.hub = new Hub(this.store, this.access.section(), () => this.now());
    this.hosts = allowedHosts(options.addresses.length > 0);
    this.#record = this.#newRecord();
    this.#bench = new Bench(this.store, {
      name: options.name,
      serviceVersion: PROTOCOL_VERSION,
      remembered: memory,
      record: (entry) => this.#record.add(entry),
    });
    this.#bench.setRecordFile(this.#record.path);
    this.plans = new PlanRoom({
      store: this.store,
      jobsFolder: join(folder, 'plans'),
      setsFolder: join(options.dataFolder, 'sets'),
      remembered: memory?.plan ?? null,
      setup: () => this.#bench.setup,
      carryOver: (change) => this.#bench.command({ kind: 'change setup', change }, this.now()),
      raise: (from, fault) => this.#bench.raise(from, fault, this.now()),
    });
    this.#demo = options.demo
      ? startDemo({ seed: options.demoSeed ?? Date.now() % 100_000 })
      : null;
    this.#devices = new DeviceRoom({
      demo: this.#demo,
      remembered: memory?.links ?? { indicator: null, readout: null },
      onReading: (name, reading) => this.#bench.reading(name, reading),
      onReport: (name, report) => this.#bench.linkReport(name, report, this.now()),
      onPorts: (ports) => this.store.set('ports', ports),
      onOtherDevice: (name) => this.#forgetNudgeOf(name),
    });
    this.#demo?.onChange(() => this.store.set('demo', this.#demo!.section()));
    if (this.#demo) this.#setUpDemo(this.#demo);
    this.#openRecord();
    this.#ticker = setInterval(() => this.#bench.tick(this.now()), TICK_EVERY_MS);
  }

  now(): number {
    return performance.now();
  }

  async ports() {
    return findPorts();
  }

  shapes() {
    return describeShapes();
  }

  health(): Record<string, number | string> {
    return {
      uptimeS: Math.round(process.uptime()),
      heapUsedMb: Math.round(process.memoryUsage().heapUsed / 1e6),
      sequence: this.store.sequence,
      recordEntriesDropped: this.#record.dropped,
    };
  }

  async command(command: Command, role: Role): Promise<Answer> {
    const answer = await this.#carryOut(command, role);
    this.#record.add({ entry: 'command', atMs: this.now(), command, answer });
    // What the screen is told was taken is on disk, or the fault about the disk stands beside it.
    await this.#record.flush();
    if (answer.ok) this.#rememberSoon();
    return answer;
  }

  async close(): Promise<void> {
    if (this.#closed) return;
    this.#closed = true;
    clearInterval(this.#ticker);
    await this.#devices.close();
    this.#demo?.close();
    this.hub.close();
    await this.#remember();
    await this.#record.close();
  }

  async #carryOut(command: Command, role: Role): Promise<Answer> {
    if (isPlanCommand(command)) return this.plans.command(command);
    switch (command.kind) {
      case 'connect':
        return this.#devices.connect(command.link, command.config);
      case 'disconnect':
        return this.#devices.disconnect(command.link);
      case 'demo':
        return this.#demo ? this.#actDemo(this.#demo, command.do) : refuse(noDemo());
      case 'new pairing code':
      case 'revoke tablet':
        return role === 'bench screen' ? this.#manageTablets(command) : refuse(benchScreenOnly());
      case 'set stage': {
        const answer = this.#bench.command(command, this.now());
        // The simulated vise is tightened by the same hand that says so; a real one is not.
        if (answer.ok) this.#demo?.clamp(command.stage);
        return answer;
      }
      case 'new job': {
        const answer = this.#bench.command(command, this.now());
        if (answer.ok) await this.#nextRecord();
        return answer;
      }
      default:
        return this.#bench.command(command, this.now());
    }
  }

  async #actDemo(demo: DemoDoor, act: Extract<Command, { kind: 'demo' }>['do']): Promise<Answer> {
    const answer = demo.act(act);
    if (answer.ok && act.act === 'new vise') {
      this.#bench.command({ kind: 'new job' }, this.now());
      await this.#nextRecord();
    }
    return answer;
  }

  #manageTablets(
    command: Extract<Command, { kind: 'new pairing code' | 'revoke tablet' }>,
  ): Answer {
    if (command.kind === 'new pairing code') {
      this.access.renewCode();
      return { ok: true, note: 'The old code no longer pairs.' };
    }
    if (!this.access.revoke(command.id)) return refuse(tabletNotKnown(command.id));
    // Their pages connect again at once and are told that they may only watch.
    this.hub.cutScreens('paired tablet');
    return { ok: true, note: 'The tablet may only watch from now on.' };
  }

  /** Another device may count the other way: what was nudged belongs to the old one. */
  #forgetNudgeOf(name: LinkName): void {
    this.#bench.command(
      { kind: 'forget nudge', nudge: name === 'indicator' ? 'y' : 'x' },
      this.now(),
    );
  }

  #setUpDemo(demo: DemoDoor): void {
    this.#bench.command(
      { kind: 'change setup', change: { way: 'readout', entry: 'device' } },
      this.now(),
    );
    demo.clamp(this.#bench.stage);
    this.store.set('demo', demo.section());
  }

  // Record and memory.

  #newRecord(): RecordFile {
    const stamp = new Date().toISOString().replaceAll(':', '-').replace('.', '-').slice(0, 23);
    this.#records += 1;
    const path = join(this.#folder, 'jobs', `${stamp}-${process.pid}-${this.#records}.ndjson`);
    return new RecordFile(path, (fault) => this.#recordFault(fault));
  }

  #openRecord(): void {
    this.#record.add({
      entry: 'opened',
      atMs: this.now(),
      version: PROTOCOL_VERSION,
      wallClock: new Date().toISOString(),
      simulated: this.#options.demo,
      job: this.#bench.jobNumber,
      setup: this.#bench.setup,
      stage: this.#bench.stage,
    });
  }

  /**
   * A new job has a record of its own. Where the disk refuses, it goes on in the old one: closing that would
   * lose what it still holds.
   */
  async #nextRecord(): Promise<void> {
    if (!(await this.#record.flush())) {
      this.#openRecord();
      return;
    }
    const before = this.#record;
    // First the new one: readings come in while the old one is being closed.
    this.#record = this.#newRecord();
    this.#bench.setRecordFile(this.#record.path);
    this.#openRecord();
    await before.close();
  }

  /** Each vain try says so again; it is noted when it is news, or when the user has put it away. */
  #recordFault(fault: Fault | null): void {
    if (!fault) {
      this.#bench.clearFault('record-not-kept');
      return;
    }
    const { standing } = this.store.get('faults');
    if (standing.some(({ code, got }) => code === fault.code && got === fault.got)) return;
    this.#bench.raise('record', fault, this.now());
  }

  #rememberSoon(): void {
    if (this.#rememberTimer || this.#options.demo || this.#closed) return;
    this.#rememberTimer = setTimeout(() => {
      this.#rememberTimer = null;
      void this.#remember();
    }, REMEMBER_AFTER_MS);
  }

  /** One write at a time, the latest last. */
  async #remember(): Promise<void> {
    if (this.#rememberTimer) clearTimeout(this.#rememberTimer);
    this.#rememberTimer = null;
    if (this.#options.demo) return;
    const memory: BenchMemory = {
      version: 1,
      setup: this.#bench.setup,
      nudges: this.#bench.nudges,
      plan: this.plans.desk.question,
      links: this.#devices.configs,
      tablets: [...this.access.tablets],
    };
    this.#writing = this.#writing
      .then(() => writeMemory(join(this.#folder, 'bench.json'), memory))
      .then(() => void this.#bench.clearFault('memory-not-kept'))
      .catch((error: unknown) => {
        this.#bench.raise('memory', memoryNotKept(this.#folder, error), this.now());
      });
    await this.#writing;
  }
}
