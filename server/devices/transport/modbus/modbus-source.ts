import type { Fault, LinkConfig, LinkName, RegisterRead } from '@taptrue/protocol';
import { AskInTurn } from '../ask-in-turn.ts';
import type { Clock } from '../clock.ts';
import { type LineTurn, OWN_LINE } from '../line-turns.ts';
import { siftedFault } from '../link-faults.ts';
import type { ReadingSource } from '../source.ts';
import type { SourceEvents } from '../source-events.ts';
import { ReadingIntake } from '../take-readings.ts';
import type { Transport, TransportMaker } from '../transport.ts';
import { type RegisterAnswer, RegisterAsker } from './ask-registers.ts';
import { garbledFault, type ModbusNames, noAnswerFault, refusedFault } from './modbus-faults.ts';
import { planReads, type RegisterBlock } from './plan-reads.ts';
import { decimalsOf, lengthOf, numberIn, registersOf, registersText } from './registers.ts';
import type { ModbusWire } from './wire.ts';

export interface ModbusSourceOptions {
  name: LinkName;
  config: LinkConfig;
  read: RegisterRead;
  maker: TransportMaker;
  wire: ModbusWire;
  serial: boolean;
  clock: Clock;
  /** Its place on the line, by how long it may hold it; left out: a line of its own. */
  turnOn?: (holdsMs: number) => LineTurn;
}

/** A device that is fast may be asked ten times in this; see `silentAfterMs`. */
const SILENT_AFTER_MS = 1000;

/** A device whose readings stand in registers: asked in turn, over a port or a socket. */
export class ModbusSource implements ReadingSource {
  readonly trigger = 'asked';
  readonly intake: ReadingIntake;
  private readonly blocks: readonly RegisterBlock[];
  private readonly asker: AskInTurn;
  private readonly turn: LineTurn;
  private readonly ownSilenceMs: number;
  private readonly registers: RegisterAsker;
  private lastTitle: string;
  private transport: Transport | null = null;
  private events: SourceEvents | null = null;
  private isOpen = false;
  /** Which request of the round is out. */
  private at = 0;
  private answeredAtMs = 0;

  constructor(private readonly options: ModbusSourceOptions) {
    const { clock, name, config, read, wire } = options;
    this.lastTitle = `the ${name}`;
    this.intake = new ReadingIntake({
      config: { ...config, channel: String(read.address) },
      events: () => this.events,
      siftedFault: (sifted, text) => siftedFault({ device: name, title: this.title }, sifted, text),
    });
    this.blocks = planReads(read, addressIn(config.secondChannel));
    const { everyMs } = read;
    const answerWithinMs = read.answerWithinMs * this.blocks.length;
    // Two rounds may fail before it is called silent; fast ones must, or one lost answer would show.
    this.ownSilenceMs = Math.max(SILENT_AFTER_MS, 2 * everyMs + answerWithinMs);
    this.registers = new RegisterAsker((request) => this.transport?.write(wire.ask(request)));
    this.turn = options.turnOn?.(answerWithinMs) ?? OWN_LINE;
    this.asker = new AskInTurn({
      clock,
      turn: this.turn,
      everyMs,
      answerWithinMs,
      send: () => this.askFrom(0),
      unanswered: () => this.unanswered(),
    });
  }

  /** Where another shares the line its waits come on top: they are no silence of this one. */
  get silentAfterMs(): number {
    return this.ownSilenceMs + this.turn.othersHoldMs();
  }

  /** A port that is shared, or looked for by its device, has its name only once it is open. */
  get title(): string {
    return this.transport?.title || this.lastTitle;
  }

  open(events: SourceEvents): void {
    const transport = this.options.maker();
    this.transport = transport;
    this.events = events;
    const isMine = () => this.transport === transport;
    transport.open({
      opened: (atMs) => isMine() && this.opened(atMs),
      bytes: (chunk, atMs) => isMine() && this.bytes(chunk, atMs),
      closed: (fault) => isMine() && this.closed(fault),
    });
  }

  askNow(): boolean {
    if (!this.isOpen) return false;
    this.asker.askNow();
    return true;
  }

  /** Nothing to give up: an answer that does not come has its own time. */
  fellSilent(): void {}

  silentFault(silentAfterMs: number): Fault {
    return noAnswerFault(this.names(), silentAfterMs);
  }

  notUnderstoodFault(): Fault {
    return garbledFault(this.names(), this.options.wire.trouble);
  }

  async close(): Promise<void> {
    const { transport } = this;
    this.forget();
    await transport?.close();
  }

  private opened(atMs: number): void {
    this.isOpen = true;
    this.intake.begin();
    this.events?.opened(atMs);
    this.asker.start();
  }

  private bytes(chunk: Uint8Array, atMs: number): void {
    if (!this.turn.hears()) return;
    this.intake.heard(chunk.length, atMs);
    const frame = this.options.wire.feed(chunk);
    if (frame === null) return;
    this.answeredAtMs = atMs;
    this.registers.answered(frame);
  }

  private closed(cause: Fault | null): void {
    const { events } = this;
    this.forget();
    events?.closed(cause);
  }

  private forget(): void {
    this.lastTitle = this.title;
    this.transport = null;
    this.events = null;
    this.isOpen = false;
    this.asker.stop();
  }

  private askFrom(at: number): void {
    const { unitId, function: code } = this.options.read;
    const block = this.blocks[at]!;
    this.at = at;
    const what = { unitId, function: code, address: block.address, count: block.count };
    this.registers.ask(what, (answer) => this.answered(block, answer));
  }

  private answered(block: RegisterBlock, answer: RegisterAnswer): void {
    if (answer.kind === 'registers') this.takeRegisters(block, answer.bytes);
    else if (answer.kind === 'refused') this.refused(answer.reason);
    else this.garbled(answer.why);
    // An answer behind its time is taken, but the round it belonged to is over.
    if (!this.asker.isOutstanding) return;
    if (this.at + 1 < this.blocks.length) this.askFrom(this.at + 1);
    else this.asker.answered();
  }

  private takeRegisters(block: RegisterBlock, bytes: Uint8Array): void {
    const { read, config } = this.options;
    const unit = config.unit === 'as sent' ? null : config.unit;
    const decimals = decimalsOf(read, unit ?? 'mm');
    for (const { channel, address, offsetBytes } of block.wanted) {
      const own = bytes.subarray(offsetBytes, offsetBytes + 2 * registersOf(read.form));
      const number = numberIn(own, read.form, read.order);
      this.intake.show(registersText(address, own, number));
      const value = number === null ? null : lengthOf(number, read.perCount, decimals);
      this.intake.take(
        {
          kind: 'reading',
          value,
          decimals,
          unit,
          status: value === null ? 'error' : 'ok',
          channel,
        },
        this.answeredAtMs,
      );
    }
  }

  private refused(reason: number): void {
    this.intake.counters.saidNo += 1;
    const shown = this.intake.show(`exception ${reason}`);
    this.intake.miss(() => refusedFault(this.names(), reason, shown), this.answeredAtMs);
  }

  private garbled(why: string): void {
    this.intake.counters.framesNotUnderstood += 1;
    this.intake.show(why);
    this.intake.miss(() => this.notUnderstoodFault(), this.answeredAtMs);
  }

  private unanswered(): void {
    const { intake } = this;
    const { clock, wire } = this.options;
    intake.counters.unanswered += 1;
    const { trouble } = wire;
    if (trouble.strayBytes === 0 && trouble.badChecksums === 0 && trouble.firstBytes.length === 0)
      return;
    intake.counters.framesNotUnderstood += 1;
    const fault = garbledFault(this.names(), trouble);
    intake.show(fault.got);
    intake.miss(() => fault, clock.now());
  }

  private names(): ModbusNames {
    const { name, read, serial } = this.options;
    return { device: name, title: this.title, read, serial };
  }
}

/** The second axis of a Modbus device is named by its register address. */
function addressIn(text: string | undefined): number | null {
  if (text === undefined || !/^\d{1,5}$/.test(text)) return null;
  const address = Number(text);
  return address <= 65535 ? address : null;
}
