import type { Answer, Fault } from '@taptrue/protocol';

/** Taken, with nothing to say. */
export const DONE: Answer = { ok: true, note: '' };

/** Taken, with a sentence for whoever asked. */
export function done(note: string): Answer {
  return { ok: true, note };
}

/** Not taken: what happened, what was got, what to do. */
export function refused(fault: Fault): Answer {
  return { ok: false, fault };
}
