import type { Command } from '@taptrue/protocol';

/** Commands that the bench carries out and records by itself. */
export const BENCH_KINDS = [
  'change setup',
  'begin nudge',
  'finish nudge',
  'skip nudge',
  'forget nudge',
  'mark end',
  'begin sweep',
  'take station',
  'take back',
  'start feed',
  'stop feed',
  'end sweep',
  'abandon sweep',
  'park',
  'tap reading',
  'leave tap',
  'set stage',
  'zero moved',
  'answer turn',
  'forget learned pivot',
  'change card',
  'new job',
  'clear fault',
] as const satisfies readonly Command['kind'][];

/** Commands of the set-ups beside the vise: the bench records these too. */
export const SET_UP_KINDS = [
  'choose set-up',
  'leave set-up',
  'tell set-up',
  'take set-up reading',
  'take back set-up reading',
  'take sweep for set-up',
  'turn set-up round',
  'keep set-up',
  'aim by part',
] as const satisfies readonly Command['kind'][];
