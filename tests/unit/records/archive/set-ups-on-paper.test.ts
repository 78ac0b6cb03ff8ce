import type { RecordEntry } from '@taptrue/protocol';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { checkRecordings } from '@taptrue/server/records/exchange/check-recordings.ts';
import { proofSheet } from '@taptrue/server/records/sheet/proof-sheet.ts';
import { sheetFacts } from '@taptrue/server/records/sheet/sheet-facts.ts';
import { SinceSigned } from '@taptrue/server/records/sheet/since-signed.ts';
import { resumeJob } from '@taptrue/server/service/resume-job.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { expect, test } from 'vitest';
import { AtTheBench } from '../../bench/at-the-bench.ts';
import { linesOf } from './lines-of.ts';

/** A head tilted 0.002 in over 8 in, high away from the operator, read at eight places. */
function readHead(at: AtTheBench): void {
  at.must({ kind: 'choose set-up', name: 'head' });
  at.must({ kind: 'tell set-up', ask: 'diameter', text: '8in' });
  for (let deg = 0; deg < 360; deg += 45) {
    const keyed = (0.001 * Math.sin((deg * Math.PI) / 180)).toFixed(4);
    at.must({ kind: 'take set-up reading', at: String(deg), keyed, sure: true });
  }
  at.must({ kind: 'keep set-up' });
}

function page(entries: readonly RecordEntry[]): string {
  return proofSheet(sheetFacts(linesOf(entries))!, { paper: 'a4', printedText: 'now' });
}

test('a kept set-up is checked with the recording and printed beside the vise; without one nothing is said', () => {
  const at = new AtTheBench({ rises: 'toward', limit: { kind: 'angle', rad: 0.001 } });
  at.sweepKeyed(['0', '0.0001', '0.0001', '0.0002', '0.0002']);
  expect(page(at.recorded)).not.toContain('Other set-ups');
  readHead(at);
  const [checked] = checkRecordings(linesOf(at.recorded), {});
  expect(checked?.refused).toBeNull();
  expect(checked?.recomputation?.different).toBe(0);
  const paper = page(at.recorded);
  expect(paper).toContain('Other set-ups of this job');
  expect(paper).toMatch(
    /head square to the table.*not true\..*Top of the head forward, toward you/,
  );
});

test('a result that was written over in the file is refused', () => {
  const at = new AtTheBench();
  at.sweepKeyed(['0', '0.0001', '0.0001', '0.0002', '0.0002']);
  readHead(at);
  const forged = at.recorded.map((entry): RecordEntry => {
    if (entry.entry !== 'set-up kept') return entry;
    return {
      ...entry,
      kept: { ...entry.kept, judged: { ...entry.kept.judged, verdict: 'true' } },
    };
  });
  const [checked] = checkRecordings(linesOf(forged), {});
  expect(checked?.refused?.fault.code).toBe('recording-not-recomputed');
});

test('a set-up that was kept after a signature is told beside the name', () => {
  const at = new AtTheBench();
  at.sweepKeyed(['0', '0.0001', '0.0001', '0.0002', '0.0002']);
  const before = at.recorded.length;
  readHead(at);
  const since = new SinceSigned();
  for (const entry of at.recorded.slice(before)) since.push(entry);
  expect(since.words).toEqual(['another set-up was kept']);
});

test('a job in which only a set-up was read goes on after a restart, reading by reading', async () => {
  const at = new AtTheBench();
  readHead(at);
  at.must({ kind: 'take back set-up reading' });
  const store = new SectionStore(firstState('mill', '1.1'));
  const taken = await resumeJob(
    {
      write: null,
      async *entriesOf() {
        yield* at.recorded;
      },
    } as unknown as Parameters<typeof resumeJob>[0],
    { openJob: 'job-1', jobs: 1, lastSeq: 1, lastAtMs: at.nowMs },
    { store },
  );
  expect(taken).not.toBeNull();
  expect(store.state.setUps.chosen?.points).toHaveLength(7);
  expect(store.state.setUps).toEqual(at.state.setUps);
});
