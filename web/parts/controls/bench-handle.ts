import type { Answer, Command } from '@taptrue/protocol';
import type { PaintLoop } from '../../frame/paint-loop.ts';

/** What every part of the page may do with the bench. */
export interface BenchHandle {
  loop: PaintLoop;
  /** Sends a command; a refusal is shown by the page itself, wherever it came from. */
  command(command: Command): Promise<Answer>;
  pair(code: string, name: string): Promise<Answer>;
}
