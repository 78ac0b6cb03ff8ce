import { randomBytes } from 'node:crypto';
import type { Fault, RecordOverview, ReplayAsk } from '@taptrue/protocol';
import type { JobJournal } from '../journal/job-journal.ts';
import { OpenReplay } from './open-replay.ts';
import { noSuchJob, recordNotRead, tooManyReplays } from './replay-faults.ts';
import { ReplayThread } from './replay-thread.ts';

/** They share one thread, and so one core at most while they play; a bench's computer has few. */
export const MOST_REPLAYS = 3;
/** A replay that no screen watches is closed after this: a page that is loaded again takes a second or two. */
export const CLOSE_UNWATCHED_AFTER_MS = 60_000;
/** One that stands still is closed after this though it is watched: the tab was forgotten. */
export const CLOSE_STANDING_AFTER_MS = 30 * 60_000;
const LOOK_EVERY_MS = 5_000;

export interface ReplayRoomOptions {
  records: Pick<JobJournal, 'path' | 'read' | 'flush'>;
  version: string;
  now(): number;
}

/** The replays that are open, apart from the bench and from each other. */
export class ReplayController {
  readonly #options: ReplayRoomOptions;
  readonly #replays = new Map<string, OpenReplay>();
  readonly #thread: ReplayThread;
  readonly #looker: NodeJS.Timeout;

  constructor(options: ReplayRoomOptions) {
    this.#options = options;
    this.#thread = new ReplayThread({
      storePath: options.records.path,
      onWord: (word) => this.#replays.get(word.replay)?.hear(word),
      onDeath: (why) => {
        for (const replay of this.#replays.values()) replay.fail(recordNotRead('replay', why));
      },
    });
    this.#looker = setInterval(() => this.closeIdle(), LOOK_EVERY_MS);
    this.#looker.unref();
  }

  get count(): number {
    return this.#replays.size;
  }

  /** A replay may soon be wanted: its thread takes some seconds of a core to be made, and stays. */
  warm(): void {
    this.#thread.warm();
    // So does the thread that draws the needle; what it says of no job is of no interest.
    void this.#options.records.read.do('chunkHeads', '').catch(() => undefined);
  }

  /** Opens a job, or one sweep of it; it stands at its beginning. */
  async open({
    job,
    sweep,
  }: ReplayAsk): Promise<{ ok: true; id: string } | { ok: false; fault: Fault }> {
    this.warm();
    // What was measured a moment ago belongs to it.
    await this.#options.records.flush();
    if (this.#replays.size >= MOST_REPLAYS) this.#closeOneUnwatched();
    if (this.#replays.size >= MOST_REPLAYS)
      return { ok: false, fault: tooManyReplays(MOST_REPLAYS) };
    const id = randomBytes(8).toString('hex');
    const { version, now } = this.#options;
    const replay = new OpenReplay(
      {
        id,
        version,
        now,
        ask: (request) => this.#thread.ask(request),
        onEnd: () => this.#forget(id),
      },
      { job, sweep },
    );
    this.#replays.set(id, replay);
    const opening = await replay.opening;
    return opening.ok ? { ok: true, id } : opening;
  }

  get(id: string): OpenReplay | null {
    return this.#replays.get(id) ?? null;
  }

  /** The needle of a kept job, as wide as a screen. */
  async overview(ask: {
    job: string;
    fromMs: number | null;
    toMs: number | null;
    columns: number;
  }): Promise<{ ok: true; overview: RecordOverview } | { ok: false; fault: Fault }> {
    try {
      await this.#options.records.flush();
      const overview = await this.#options.records.read.do('overview', ask);
      return overview ? { ok: true, overview } : { ok: false, fault: noSuchJob(ask.job) };
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      return { ok: false, fault: recordNotRead(ask.job, why) };
    }
  }

  /** To be called now and then: closes what nobody watches, and what stands still for long. */
  closeIdle(): void {
    const nowMs = this.#options.now();
    for (const replay of this.#replays.values()) {
      if (replay.isPlaying && replay.hub.screens > 0) replay.usedAtMs = nowMs;
      const afterMs = replay.hub.screens > 0 ? CLOSE_STANDING_AFTER_MS : CLOSE_UNWATCHED_AFTER_MS;
      if (nowMs - replay.usedAtMs > afterMs) replay.close();
    }
  }

  async close(): Promise<void> {
    clearInterval(this.#looker);
    for (const replay of this.#replays.values()) replay.close();
    await this.#thread.close();
  }

  #forget(id: string): void {
    this.#replays.delete(id);
    if (this.#thread.isWarm) this.#thread.ask({ ask: 'close', replay: id });
  }

  #closeOneUnwatched(): void {
    const unwatched = [...this.#replays.values()].filter(({ hub }) => hub.screens === 0);
    unwatched.sort((a, b) => a.usedAtMs - b.usedAtMs)[0]?.close();
  }
}
