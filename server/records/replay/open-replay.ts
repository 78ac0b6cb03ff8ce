import type {
  Answer,
  BenchState,
  Command,
  Fault,
  ReplayMove,
  SectionName,
} from '@taptrue/protocol';
import { firstState } from '../../bench/first-state.ts';
import { SectionStore } from '../../state/section-store.ts';
import { Hub } from '../../stream/hub.ts';
import { refuse, replayBusy, replayGone } from './replay-faults.ts';
import type { ReplayRequest, ReplayWord } from './replay-messages.ts';

/** Moves that may wait for the thread: a hand on the time scale asks ten times a second, a slice takes 12 ms. */
const MOST_WAITING = 32;

/** Screens of a replay are told nothing of who may command the bench. */
const NO_ACCESS = { pairingCode: null, addresses: [], tablets: [], triesLeft: 0 };

export interface OpenReplayOptions {
  id: string;
  version: string;
  now(): number;
  ask(request: ReplayRequest): void;
  onEnd(): void;
}

export type Opening = { ok: true } | { ok: false; fault: Fault };

/** One replay as the service has it: its latest state and its screens, apart from those of the bench. */
export class OpenReplay {
  readonly id: string;
  readonly hub: Hub;
  /** Resolves once it stands where it begins, or cannot. */
  readonly opening: Promise<Opening>;
  /** When something was last asked of it, a screen left it, or it last played to one. */
  usedAtMs: number;
  readonly #options: OpenReplayOptions;
  readonly #store: SectionStore;
  readonly #waiting = new Map<number, (answer: Answer) => void>();
  #opened: (opening: Opening) => void = () => undefined;
  #asked = 0;
  #isClosed = false;

  constructor(options: OpenReplayOptions, subject: { job: string; sweep: number | null }) {
    this.id = options.id;
    this.#options = options;
    this.#store = new SectionStore(firstState('', options.version));
    this.hub = new Hub(this.#store, NO_ACCESS, options.now);
    this.usedAtMs = options.now();
    this.opening = new Promise((resolve) => {
      this.#opened = resolve;
    });
    options.ask({ ask: 'open', replay: options.id, ...subject });
  }

  get state(): Readonly<BenchState> {
    return this.#store.state;
  }

  get isPlaying(): boolean {
    return this.#store.state.replay?.isPlaying ?? false;
  }

  /** A screen left: it has the usual time to come back. */
  left(): void {
    this.usedAtMs = this.#options.now();
  }

  move(move: ReplayMove): Promise<Answer> {
    return this.#ask((number) => ({ ask: 'move', replay: this.id, number, move }));
  }

  command(command: Command): Promise<Answer> {
    return this.#ask((number) => ({ ask: 'command', replay: this.id, number, command }));
  }

  /** What the thread says of this replay. */
  hear(word: ReplayWord): void {
    switch (word.word) {
      case 'open':
        this.#set(word.state);
        this.#opened({ ok: true });
        return;
      case 'cannot open':
        this.fail(word.fault);
        return;
      case 'state':
        this.#set(word.state);
        return;
      case 'answer':
        this.#waiting.get(word.number)?.(word.answer);
        this.#waiting.delete(word.number);
        return;
      case 'up':
        return;
    }
  }

  fail(fault: Fault): void {
    this.#opened({ ok: false, fault });
    this.close();
  }

  close(): void {
    if (this.#isClosed) return;
    this.#isClosed = true;
    this.hub.close();
    this.#opened({ ok: false, fault: replayGone() });
    for (const resolve of this.#waiting.values()) resolve(refuse(replayGone()));
    this.#waiting.clear();
    this.#options.onEnd();
  }

  #ask(request: (number: number) => ReplayRequest): Promise<Answer> {
    if (this.#isClosed) return Promise.resolve(refuse(replayGone()));
    if (this.#waiting.size >= MOST_WAITING) return Promise.resolve(refuse(replayBusy()));
    this.usedAtMs = this.#options.now();
    this.#asked += 1;
    const number = this.#asked;
    return new Promise((resolve) => {
      this.#waiting.set(number, resolve);
      this.#options.ask(request(number));
    });
  }

  #set(state: Partial<BenchState>): void {
    for (const [name, value] of Object.entries(state))
      this.#store.set(name as SectionName, value as never);
  }
}
