import type { RecordEntry } from '@taptrue/protocol';
import {
  SigningController,
  type SigningRoomOptions,
} from '@taptrue/server/records/signing/signing-controller.ts';
import { expect, test } from 'vitest';
import { AtTheBench } from '../../bench/at-the-bench.ts';

/** Signs while the disk takes (true) or refuses (false) what is written, one after the other. */
async function signWhile(takes: boolean[]) {
  const at = new AtTheBench({ rises: 'toward', stationsMm: [0, 127] });
  at.sweepKeyed(['0', '0.0002']);
  const added: RecordEntry['entry'][] = [];
  const records = {
    path: '/data/mill/record.sqlite',
    add: ({ entry }: RecordEntry) => void added.push(entry),
    flush: async () => takes.shift() ?? true,
    read: { do: async () => ({ lines: 20, sha256: 'a'.repeat(64) }) },
  } as unknown as SigningRoomOptions['records'];
  const room = new SigningController({
    records,
    state: () => at.state,
    job: () => at.bench.jobKey,
    now: () => at.nowMs,
    wallClock: () => '2026-11-25T09:30:00.000Z',
  });
  const answer = await room.sign({ kind: 'sign record', who: 'Ann', role: 'set by', ticked: [] });
  return { answer, added };
}

test.each<[string, boolean[], string | null, string[]]>([
  ['both lines are on the disk', [true, true], null, ['signing', 'signed']],
  ['the line to be signed is not', [false], 'nothing-to-sign', ['signing']],
  ['the signature itself is not', [true, false], 'writing-held', ['signing', 'signed']],
])('is said to be done only where it is on the disk: %s', async (_how, takes, code, entries) => {
  const { answer, added } = await signWhile(takes);
  expect(answer.ok ? null : answer.fault.code).toBe(code);
  expect(added).toEqual(entries);
});
