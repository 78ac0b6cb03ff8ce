import { parentPort, workerData } from 'node:worker_threads';
import type { Database } from '../store/database.ts';
import { openStoreToRead } from '../store/open-store.ts';
import { ReplayEngine } from './replay-engine.ts';
import { recordNotRead } from './replay-faults.ts';
import type { ReplayRequest, ReplayThreadData, ReplayWord } from './replay-messages.ts';
import { subjectOf } from './replay-subject.ts';

/** As often as a screen can paint. */
const ADVANCE_EVERY_MS = 16;
/** Told at a stretch before hands and the other replays have their turn: a pause takes hold within this. */
const SLICE_MS = 12;

interface Running {
  engine: ReplayEngine;
  /** Its screens have been shown where it begins. */
  isShown: boolean;
}

const { storePath } = workerData as ReplayThreadData;
const port = parentPort!;
const running = new Map<string, Running>();
let db: Database | null = null;
let isDue = false;

const say = (word: ReplayWord) => port.postMessage(word);

port.on('message', (request: ReplayRequest) => {
  take(request);
  goOn(0);
});
say({ replay: '', word: 'up' });

function take(request: ReplayRequest): void {
  if (request.ask === 'end') {
    running.clear();
    db?.close();
    db = null;
    port.close();
    return;
  }
  const { replay } = request;
  if (request.ask === 'open') {
    open(request);
    return;
  }
  if (request.ask === 'close') {
    running.delete(replay);
    return;
  }
  const engine = running.get(replay)?.engine;
  if (!engine) return;
  const answer =
    request.ask === 'move'
      ? engine.move(request.move, performance.now())
      : engine.command(request.command);
  say({ replay, word: 'answer', number: request.number, answer });
}

function open({ replay, job, sweep }: Extract<ReplayRequest, { ask: 'open' }>): void {
  try {
    db ??= openStoreToRead(storePath);
    const found = subjectOf(db, { id: replay, job, sweep });
    const opened = found.ok ? ReplayEngine.open(found.subject) : found;
    if (opened.ok) running.set(replay, { engine: opened.engine, isShown: false });
    else say({ replay, word: 'cannot open', fault: opened.fault });
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    say({ replay, word: 'cannot open', fault: recordNotRead(job, why) });
  }
}

function goOn(inMs: number): void {
  if (isDue) return;
  isDue = true;
  setTimeout(() => {
    isDue = false;
    advanceAll();
  }, inMs);
}

function advanceAll(): void {
  let hasMore = false;
  let hasLater = false;
  for (const [replay, one] of running) {
    const { engine } = one;
    const startedMs = performance.now();
    if (engine.advance(startedMs, () => performance.now() - startedMs < SLICE_MS)) hasMore = true;
    tell(replay, one);
    // What was held back for its turn is told in a later round.
    if (engine.isBusy || engine.hasUntold) hasLater = true;
  }
  if (hasMore) goOn(0);
  else if (hasLater) goOn(ADVANCE_EVERY_MS);
}

function tell(replay: string, one: Running): void {
  const state = one.engine.take(performance.now());
  // Nothing is shown before the replay stands where it begins.
  if (!one.isShown && state.bench === undefined) return;
  if (Object.keys(state).length === 0) return;
  say({ replay, word: one.isShown ? 'state' : 'open', state });
  one.isShown = true;
}
