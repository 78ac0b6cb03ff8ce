import type { RecordEntryOf } from '@taptrue/protocol';
import { UnreadKept } from '@taptrue/server/devices/unread-kept.ts';
import { describe, expect, it } from 'vitest';

function kept() {
  const entries: RecordEntryOf<'unread'>[] = [];
  return { entries, unread: new UnreadKept('readout', (entry) => entries.push(entry)) };
}

describe('what gave no reading, on its way to the record', () => {
  it('is kept as it came, each one, while a device sends ten a second or fewer', () => {
    const { entries, unread } = kept();
    for (let line = 0; line < 50; line += 1) unread.take(`ERR ${line}`, line * 100);
    expect(entries.map(({ text }) => text)).toEqual(
      Array.from({ length: 50 }, (_, line) => `ERR ${line}`),
    );
    expect(entries.every(({ leftOut, link }) => leftOut === 0 && link === 'readout')).toBe(true);
  });

  it('is counted beyond ten a second, and the next one kept says how many', () => {
    const { entries, unread } = kept();
    for (let line = 0; line < 3000; line += 1) unread.take('?', line);
    expect(entries).toHaveLength(30);
    expect(entries.map(({ leftOut }) => leftOut)).toEqual(
      entries.map((_, at) => (at === 10 || at === 20 ? 990 : 0)),
    );
  });

  it('goes on keeping after a long silence', () => {
    const { entries, unread } = kept();
    for (let line = 0; line < 12; line += 1) unread.take('?', 0);
    unread.take('again', 60_000);
    expect(entries.at(-1)).toMatchObject({ text: 'again', leftOut: 2 });
  });
});
