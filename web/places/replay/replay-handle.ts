import type { Answer, ReplayMove } from '@taptrue/protocol';

/** What the parts of a replay may do with it. */
export interface ReplayHandle {
  move(move: ReplayMove): Promise<Answer>;
}
