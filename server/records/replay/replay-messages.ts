import type { Answer, BenchState, Command, Fault, ReplayMove } from '@taptrue/protocol';

/** What the thread of the replays is told when it is made. */
export interface ReplayThreadData {
  storePath: string;
}

/** What it is asked; `replay` names which one. Moves and commands are answered by their number. */
export type ReplayRequest =
  | { ask: 'open'; replay: string; job: string; sweep: number | null }
  | { ask: 'move'; replay: string; number: number; move: ReplayMove }
  | { ask: 'command'; replay: string; number: number; command: Command }
  | { ask: 'close'; replay: string }
  | { ask: 'end' };

/** What it says: `up` once, of no replay; of each, `open` or `cannot open` once, then changed sections and answers. */
export type ReplayWord = { replay: string } & (
  | { word: 'up' }
  | { word: 'open'; state: Partial<BenchState> }
  | { word: 'cannot open'; fault: Fault }
  | { word: 'state'; state: Partial<BenchState> }
  | { word: 'answer'; number: number; answer: Answer }
);
