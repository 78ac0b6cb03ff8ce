import type { RecordEntry } from '@taptrue/protocol';
import type { FileLine } from '@taptrue/server/records/exchange/lines-of-file.ts';
import { RecordingWriter } from '@taptrue/server/records/exchange/recording-writer.ts';

/** A job as the lines of its recording, as a reader of the file gets them. */
export function linesOf(entries: readonly RecordEntry[]): FileLine[] {
  const writer = new RecordingWriter();
  const text = entries.map((entry) => `${JSON.stringify(entry)}\n`).join('');
  return `${writer.push(text)}${writer.end()}`
    .trimEnd()
    .split('\n')
    .map((line, index) => ({ bytes: Buffer.from(line), number: index + 1, at: 0, hasEnd: true }));
}
