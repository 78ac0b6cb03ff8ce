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
