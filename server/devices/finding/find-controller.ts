import {
  type Answer,
  type Command,
  type Fault,
  type FindSection,
  hasLines,
  type LineShape,
  type LinkConfig,
  type LinkName,
  type LinkSource,
} from '@taptrue/protocol';
import { refused } from '../../state/answers.ts';
import { type Clock, OneTimer } from '../transport/clock.ts';
import type { SerialOptions } from '../transport/serial.ts';
import type { MemoryPipe, Transport } from '../transport/transport.ts';
import type { FindDevice, FindNow } from './find-device.ts';
import { configOf, findOn, heardAs, titleOf } from './find-on.ts';
import { findSection, leadWords, setWords } from './find-section.ts';
import type { QuestionStep } from './steps.ts';

export const FIND_KINDS = ['begin find', 'answer find', 'stop find'] as const;

export type FindCommand = Extract<Command, { kind: (typeof FIND_KINDS)[number] }>;

/** A hand needs so long to find the device's key and to understand what is wanted. */
const WAIT_FOR_KEY_MS = 120_000;
/** A device may send a thousand a second; a screen shows a question's reading twenty times. */
const TELL_EVERY_MS = 50;

export interface FindRoomOptions {
  clock: Clock;
  shapes(): readonly LineShape[];
  /** Pipes of the simulated devices; null where there are none. */
  simulatedPipes: ((device: LinkName) => MemoryPipe) | null;
  /** Opens a serial port to listen on; usual: one of this computer. */
  openSerial?: (options: SerialOptions) => Transport;
  tell(section: FindSection | null): void;
  /** Which device uses this port now. */
  usedBy(source: LinkSource): LinkName | null;
  /** Whether both name one port or address, under whatever name. */
  samePlace(one: LinkSource, other: LinkSource): boolean;
  connect(link: LinkName, config: LinkConfig): Promise<Answer>;
  disconnect(link: LinkName): Promise<Answer>;
  keepShape(shape: LineShape): Promise<Answer>;
}

type Source = Parameters<typeof findOn>[0]['source'];

interface Running {
  link: LinkName;
  beganAtMs: number;
  source: Source;
  search: FindDevice;
}

/** The search for one device at a time, for all screens; on a yes the device is connected. */
export class FindController {
  readonly #options: FindRoomOptions;
  readonly #tellTimer: OneTimer;
  #running: Running | null = null;
  #work: Promise<unknown> = Promise.resolve();

  constructor(options: FindRoomOptions) {
    this.#options = options;
    this.#tellTimer = new OneTimer(options.clock);
  }

  /** One command after the other: two screens that begin at once would open the port twice. */
  command(command: FindCommand): Promise<Answer> {
    const done = this.#work.then(() => this.#carryOut(command));
    this.#work = done.catch(() => undefined);
    return done;
  }

  /** Why this port or address cannot be connected now: a search listens there. Null: it does not. */
  whyHeld(source: LinkSource): Fault | null {
    const running = this.#goingOn();
    if (running === null || !this.#options.samePlace(running.source, source)) return null;
    return searchHolds(running, this.#options.clock.now());
  }

  #goingOn(): Running | null {
    return this.#running?.search.now.ending === null ? this.#running : null;
  }

  async close(): Promise<void> {
    this.#tellTimer.clear();
    await this.#running?.search.close();
  }

  async #carryOut(command: FindCommand): Promise<Answer> {
    switch (command.kind) {
      case 'begin find':
        return this.#begin(command.link, command.source, command.closeFirst);
      case 'answer find':
        return this.#answer(command.answer);
      case 'stop find':
        await this.#end();
        this.#options.tell(null);
        return { ok: true, note: 'The search is ended.' };
    }
  }

  async #begin(link: LinkName, source: LinkSource, closeFirst: boolean): Promise<Answer> {
    const { clock, shapes, simulatedPipes, usedBy, disconnect, openSerial } = this.#options;
    const goesOn = this.#goingOn();
    if (goesOn) return refused(searchGoesOn(goesOn, clock.now()));
    if (!hasLines(source) || (source.kind === 'simulated' && simulatedPipes === null)) {
      return refused(nothingToFind());
    }
    const user = usedBy(source);
    if (user !== null && !closeFirst) return refused(portUsedHere(titleOf(source), user));
    await this.#end();
    // Two devices may share one line.
    for (let one = user; one !== null; one = usedBy(source)) await disconnect(one);
    const search = findOn({
      source,
      shapes: shapes(),
      clock,
      consent: 'not asked yet',
      waitForKeyMs: WAIT_FOR_KEY_MS,
      ...(openSerial && { openSerial }),
      simulatedPipes: (device) => {
        if (simulatedPipes === null) throw new Error('there is no simulated bench');
        return simulatedPipes(device);
      },
      onChange: () => this.#tellSoon(),
    });
    this.#running = { link, beganAtMs: clock.now(), source, search };
    search.start();
    return { ok: true, note: `The search for the ${link} on ${titleOf(source)} has begun.` };
  }

  async #answer(answer: Extract<FindCommand, { kind: 'answer find' }>['answer']): Promise<Answer> {
    const running = this.#running;
    if (!running || running.search.now.ending !== null) return refused(noSearch());
    const { search } = running;
    if (answer === 'may ask' || answer === 'may not ask') {
      search.consent(answer === 'may ask');
      return { ok: true, note: answer === 'may ask' ? 'It will be asked.' : 'Nothing is sent.' };
    }
    const { step } = search.now;
    if (step?.kind !== 'question') return refused(noQuestion());
    search.answer(answer === 'yes');
    return answer === 'yes'
      ? this.#connect(running, search.now, step)
      : { ok: true, note: 'Looking on.' };
  }

  async #connect(running: Running, { ending }: FindNow, step: QuestionStep): Promise<Answer> {
    if (ending?.kind !== 'found') return refused(noQuestion());
    const { link, source, search } = running;
    const { candidate, tuning } = ending.found;
    this.#tellTimer.clear();
    await search.close();
    if (candidate.shapeIsNew) {
      const kept = await this.#options.keepShape(candidate.shape);
      if (!kept.ok) return this.#failed(running, kept.fault);
    }
    const answer = await this.#options.connect(link, configOf(source, candidate, tuning));
    if (!answer.ok) return this.#failed(running, answer.fault);
    const read = [candidate.shape.title, setWords(step)].filter(Boolean).join('; ');
    this.#options.tell({
      ...findSection(link, titleOf(source), search.now),
      state: 'connected',
      sentence: `The ${link} is connected. It is read as: ${read}. ${leadWords(step)}`.trim(),
    });
    return { ok: true, note: `The ${link} is connected.` };
  }

  #failed({ link, source, search }: Running, fault: Fault): Answer {
    this.#options.tell({
      ...findSection(link, titleOf(source), search.now),
      state: 'nothing found',
      sentence: fault.what,
      fault,
    });
    return refused(fault);
  }

  async #end(): Promise<void> {
    const running = this.#running;
    this.#running = null;
    this.#tellTimer.clear();
    await running?.search.close();
  }

  #tellSoon(): void {
    if (!this.#tellTimer.isSet) this.#tellTimer.set(TELL_EVERY_MS, () => this.#tellNow());
  }

  #tellNow(): void {
    if (this.#running === null) return;
    const { search } = this.#running;
    // A yes is told when the device is connected.
    if (search.now.ending?.kind === 'found') return;
    this.#options.tell(sectionOf(this.#running));
  }
}

/** Where nothing was found although something came, what came goes with it, so that its shape can be taught. */
function sectionOf({ link, source, search }: Running): FindSection {
  const section = findSection(link, titleOf(source), search.now);
  const { ending } = search.now;
  if (ending?.kind !== 'nothing' || ending.unread === null) return section;
  const { form, bytes, tuning } = ending.unread;
  const captured = Buffer.from(bytes).toString('latin1');
  return { ...section, unread: { source: heardAs(source, tuning), form, captured } };
}

function searchGoesOn(running: Running, nowMs: number): Fault {
  const { link, source } = running;
  return {
    code: 'find-goes-on',
    what: `The ${link} is being looked for on ${titleOf(source)}, ${sinceWords(running, nowMs)}; one search at a time.`,
    got: '',
    remedy:
      'Press Stop the search under Devices, on any screen that may command; or wait for its end.',
  };
}

function searchHolds(running: Running, nowMs: number): Fault {
  const { link, source } = running;
  return {
    code: 'find-holds-port',
    what: `${titleOf(source)} is being listened to: the ${link} is looked for there, ${sinceWords(running, nowMs)}. Nothing was connected.`,
    got: '',
    remedy:
      'Press Stop the search under Devices, on any screen that may command, and connect again; or wait for its end.',
  };
}

function sinceWords({ beganAtMs }: Running, nowMs: number): string {
  const seconds = Math.round((nowMs - beganAtMs) / 1000);
  return seconds < 1 ? 'since a moment ago' : `for ${seconds} s now`;
}

function nothingToFind(): Fault {
  return {
    code: 'find-not-there',
    what: 'There is nothing to find on this source: it has no speed, parity or line shape.',
    got: '',
    remedy: 'Name a serial port, or tcp://host:port.',
  };
}

function portUsedHere(title: string, user: LinkName): Fault {
  return {
    code: 'find-port-used',
    what: `${title} is in use here: the ${user} is read from it.`,
    got: '',
    remedy: `Let the ${user} be closed first, or pick another port.`,
  };
}

function noSearch(): Fault {
  return {
    code: 'find-not-going-on',
    what: 'No device is being looked for now.',
    got: '',
    remedy: 'It may have been stopped on another screen. Begin again.',
  };
}

function noQuestion(): Fault {
  return {
    code: 'find-no-question',
    what: 'Nothing is being asked now.',
    got: '',
    remedy: 'It may have been answered on another screen. Look at what is shown now.',
  };
}
