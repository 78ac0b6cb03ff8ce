import { join } from 'node:path';
import type { Answer, Command, Fault, LinkName, Role, SetupChange } from '@taptrue/protocol';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import type { Bench } from '../bench/bench.ts';
import { type DemoDoor, startDemo } from '../devices/demo/demo-door.ts';
import { DeviceController } from '../devices/device-controller.ts';
import { FindController } from '../devices/finding/find-controller.ts';
import { FormatsController } from '../devices/formats-controller.ts';
import { shapesFolderOf } from '../devices/shape-folder.ts';
import type { Clock } from '../devices/transport/clock.ts';
import { findPorts } from '../devices/transport/find-ports.ts';
import { folderNameOf } from '../files/data-folder.ts';
import { PlanController } from '../plan/plan-controller.ts';
import { ArchiveController } from '../records/archive/archive-controller.ts';
import { ExchangeController } from '../records/exchange/exchange-controller.ts';
import type { JobJournal } from '../records/journal/job-journal.ts';
import { ReplayController } from '../records/replay/replay-controller.ts';
import { SigningController } from '../records/signing/signing-controller.ts';
import { FolderLock } from '../records/store/folder-lock.ts';
import { refused } from '../state/answers.ts';
import type { SectionStore } from '../state/section-store.ts';
import { Hub } from '../stream/hub.ts';
import { Access } from './access/access.ts';
import { allowedHosts } from './access/allowed-hosts.ts';
import type { BenchDoor } from './bench-door.ts';
import { type BenchMemory, keepUnread, readMemory, writeMemory } from './bench-memory.ts';
import { capabilitiesOf } from './capabilities.ts';
import { CapabilityList } from './capability.ts';
import { type Beginning, openKept, wallClock } from './open-kept.ts';
import type { ServiceOptions } from './service-options.ts';
import { memoryNotKept, serviceEnds } from './service-refusals.ts';

/** The bench is asked ten times a second whether something is due. */
const TICK_EVERY_MS = 100;
/** What the bench remembers is written this long after the last change: a dragged slider is one write. */
const REMEMBER_AFTER_MS = 500;

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
  readonly plans: PlanController;
  readonly shapes: FormatsController;
  readonly proof: ArchiveController;
  readonly #signing: SigningController;
  readonly recordings: ExchangeController;
  readonly #devices: DeviceController;
  readonly #find: FindController;
  readonly #capabilities: CapabilityList;
  readonly #demo: DemoDoor | null;
  readonly #ticker: NodeJS.Timeout;
  readonly records: JobJournal;
  readonly replays: ReplayController;
  readonly #lock: FolderLock | null;
  readonly #clock: Clock;
  #rememberTimer: NodeJS.Timeout | null = null;
  #writing: Promise<void> = Promise.resolve();
  #closed = false;

  /**
   * Reads what the bench remembers, takes up the job that was going on, connects what is to be connected.
   * @throws FolderInUse where another service keeps its records there.
   */
  static async start(options: ServiceOptions): Promise<BenchService> {
    const folder = join(options.dataFolder, folderNameOf(options.demo ? 'demo' : options.name));
    const lock = FolderLock.take(folder);
    const { memory, fault } = options.demo
      ? { memory: null, fault: null }
      : await readMemory(join(folder, 'bench.json'));
    if (fault) await keepUnread(join(folder, 'bench.json'));
    const before = await openKept(options, folder);
    const service = new BenchService(options, { folder, lock, memory, before });
    if (fault) service.#bench.raise('memory', fault, service.now());
    const { settings } = options;
    if (settings) service.store.set('settings', settings);
    if (settings?.fault) service.#bench.raise('settings', settings.fault, service.now());
    service.shapes.open();
    await service.plans.open();
    await service.#devices.connectFirst(
      (name) =>
        options.connect[name] ?? service.#demo?.configFor(name) ?? memory?.links[name] ?? null,
      (name, { fault }) => service.#bench.raise(name, fault, service.now()),
    );
    return service;
  }

  private constructor(
    options: ServiceOptions,
    kept: {
      folder: string;
      lock: FolderLock | null;
      memory: BenchMemory | null;
      before: Beginning;
    },
  ) {
    const { folder, memory, before } = kept;
    this.#options = options;
    this.#folder = folder;
    this.#lock = kept.lock;
    this.records = before.records;
    this.replays = new ReplayController({
      records: this.records,
      version: PROTOCOL_VERSION,
      now: () => this.now(),
    });
    this.#clock = before.clock;
    this.store = before.store;
    this.access = new Access(options.addresses, memory?.tablets ?? [], () => {
      this.hub.setAccess(this.access.section());
      this.#rememberSoon();
    });
    this.hub = new Hub(this.store, this.access.section(), () => this.now());
    this.hosts = allowedHosts(options.addresses.length > 0);
    this.#bench = before.takeUp(memory);
    this.#bench.setRecordFile(this.records.path);
    before.onFault((fault) => this.#recordFault(fault));
    this.plans = new PlanController({
      store: this.store,
      jobsFolder: join(folder, 'plans'),
      setsFolder: join(options.dataFolder, 'sets'),
      remembered: memory?.plan ?? null,
      setup: () => this.#bench.setup,
      carryOver: (change, isOther) => this.#carryOver(change, isOther),
      raise: (from, fault) => this.#bench.raise(from, fault, this.now()),
    });
    this.proof = new ArchiveController({
      records: this.records,
      store: this.store,
      runningJob: () => this.#bench.jobKey,
      simulated: options.demo,
      now: () => this.now(),
      wallClock,
    });
    this.recordings = new ExchangeController(this.records, folder);
    this.#signing = new SigningController({
      records: this.records,
      state: () => this.store.state,
      job: () => this.#bench.jobKey,
      now: () => this.now(),
      wallClock,
    });
    this.shapes = new FormatsController({
      folder: shapesFolderOf(options.dataFolder),
      raise: (from, fault) => this.#bench.raise(from, fault, this.now()),
      usedBy: (name) => this.#devices.readBy(name),
    });
    this.#demo = options.demo
      ? startDemo({ seed: options.demoSeed ?? Date.now() % 100_000 })
      : null;
    this.#devices = new DeviceController({
      demo: this.#demo,
      clock: this.#clock,
      remembered: memory?.links ?? { indicator: null, readout: null },
      onReading: (name, reading) => this.#bench.reading(name, reading),
      onSecond: (name, reading) => this.#bench.otherAxis(name, reading),
      onReport: (name, report) => this.#bench.linkReport(name, report, this.now()),
      record: (entry) => this.records.add(entry),
      onPorts: (ports) => this.store.set('ports', ports),
      onHealth: (name, { raised, over }) => {
        for (const fault of raised) this.#bench.raise(name, fault, this.now());
        for (const code of over) this.#bench.clearFault(code);
      },
      onOtherDevice: (name) => this.#forgetNudgeOf(name),
      shapes: () => this.shapes.table,
      onBytes: (name, chunk) => this.shapes.heard(name, chunk),
      ...(options.openSerial && { openSerial: options.openSerial }),
    });
    this.#find = new FindController({
      clock: this.#clock,
      shapes: () => this.shapes.table.all,
      simulatedPipes: this.#demo ? (device) => this.#demo!.pipes(device) : null,
      tell: (section) => this.store.set('find', section),
      usedBy: (source) => this.#devices.readFrom(source),
      ...(options.openSerial && { openSerial: options.openSerial }),
      samePlace: (one, other) => this.#devices.isSamePlace(one, other),
      connect: (link, config) => this.command({ kind: 'connect', link, config }, 'bench screen'),
      disconnect: (link) => this.command({ kind: 'disconnect', link }, 'bench screen'),
      keepShape: (shape) =>
        this.command({ kind: 'keep shape', shape, over: false }, 'bench screen'),
    });
    this.#capabilities = new CapabilityList(
      capabilitiesOf({
        bench: this.#bench,
        plans: this.plans,
        shapes: this.shapes,
        archive: this.proof,
        signing: this.#signing,
        replays: this.replays,
        devices: this.#devices,
        find: this.#find,
        demo: this.#demo,
        access: this.access,
        settings: options,
        now: () => this.now(),
        recordPlan: () => this.#recordPlan(),
        cutTablets: () => this.hub.cutScreens('paired tablet'),
      }),
    );
    this.#demo?.onChange(() => this.store.set('demo', this.#demo!.section()));
    if (this.#demo) this.#setUpDemo(this.#demo);
    this.#ticker = setInterval(() => this.#bench.tick(this.now()), TICK_EVERY_MS);
  }

  now(): number {
    return this.#clock.now();
  }

  async ports() {
    return findPorts();
  }

  health(): Record<string, number | string> {
    return {
      uptimeS: Math.round(process.uptime()),
      heapUsedMb: Math.round(process.memoryUsage().heapUsed / 1e6),
      sequence: this.store.sequence,
      recordEntriesDropped: this.records.dropped,
    };
  }

  async command(command: Command, role: Role): Promise<Answer> {
    if (this.#closed) return refused(serviceEnds());
    const answer = await this.#carryOut(command, role);
    // What the screen is told was taken is on disk, or the fault about the disk stands beside it.
    await this.records.flush();
    if (answer.ok) this.#rememberSoon();
    return answer;
  }

  async close(): Promise<void> {
    if (this.#closed) return;
    this.#closed = true;
    clearInterval(this.#ticker);
    await this.#capabilities.close();
    this.hub.close();
    await this.#remember();
    this.records.add({ entry: 'stopped', atMs: this.now(), wallClock: wallClock() });
    await this.records.close();
    this.#lock?.release();
  }

  async #carryOut(command: Command, role: Role): Promise<Answer> {
    const owner = this.#capabilities.ownerOf(command.kind);
    const answer = await owner.command(command, role);
    if (owner.recorded) this.#recorded(command, answer);
    if (command.kind === 'use plan' && answer.ok) this.#recordPlan();
    return answer;
  }

  /** Another plan than what was swept was swept for begins a job of its own, so that it relabels nothing. */
  #carryOver(change: SetupChange, isOther: boolean): Answer {
    const begun =
      isOther && this.#bench.hasSwept ? this.#bench.command({ kind: 'new job' }, this.now()) : null;
    const carried = this.#bench.command({ kind: 'change setup', change }, this.now());
    if (!begun?.ok || !carried.ok) return carried;
    return {
      ok: true,
      note: `${begun.note} What was swept before stays with its own job and plan.`,
    };
  }

  /** The plan that limit, axis and target come from, as the record of this job is to show it. */
  #recordPlan(): void {
    const { question, answer, taken, takenLow, inUse } = this.store.get('plan');
    if (!answer || !inUse) return;
    this.records.add({ entry: 'plan used', atMs: this.now(), question, answer, taken, takenLow });
  }

  /** The bench records its own commands; these are the service's. */
  #recorded(command: Command, answer: Answer): void {
    this.records.add({ entry: 'command', atMs: this.now(), command, answer });
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
      card: this.store.get('card'),
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
