import type { Command, RecordEntry, RecordMark } from '@taptrue/protocol';

/** The moment that an entry is worth stepping to; null: readings, ticks, and what no one looks for. */
export function markOf(entry: RecordEntry): RecordMark | null {
  const mark = (kind: RecordMark['kind'], text: string): RecordMark => ({
    kind,
    atMs: entry.atMs,
    text,
  });
  switch (entry.entry) {
    case 'opened':
      return mark('job', `Job ${entry.start.job} begins.`);
    case 'resumed':
      return mark('service', 'The service was started again.');
    case 'stopped':
      return mark('service', 'The service was ended.');
    case 'station':
      return mark('station', `Sweep ${entry.sweep}, a station is taken.`);
    case 'tap step':
      return mark('tap', `Tap ${entry.step.number}: ${entry.step.effect}.`);
    case 'sweep ended':
      return mark(
        'sweep ends',
        `Sweep ${entry.sweep} ends: ${entry.result?.verdict ?? (entry.result ? 'no limit' : 'no line')}.`,
      );
    case 'link':
      return mark('device', `${entry.link} ${entry.report.state}.`);
    case 'fault':
      return mark('fault', entry.fault.what);
    case 'command':
      if (!entry.answer.ok) return null;
      return ofCommand(entry.command, entry.answer.note, mark);
    default:
      return null;
  }
}

function ofCommand(
  command: Command,
  note: string,
  mark: (kind: RecordMark['kind'], text: string) => RecordMark,
): RecordMark | null {
  switch (command.kind) {
    case 'begin sweep':
      return mark('sweep begins', note);
    case 'begin nudge':
      return mark('nudge', `Nudge in ${command.nudge.toUpperCase()} begins.`);
    case 'finish nudge':
      return mark('nudge', `Nudge in ${command.nudge.toUpperCase()} is done.`);
    case 'park':
      return mark('parked', 'The stylus is parked.');
    case 'set stage':
      return mark('stage', `The clamps are ${command.stage}.`);
    case 'change setup':
      return mark('setup', 'The setup is changed.');
    case 'take back':
      return mark('station', 'A station is struck out.');
    default:
      return null;
  }
}
