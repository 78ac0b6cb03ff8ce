import {
  type Command,
  firstQuestion,
  type RecordEntry,
  type RecordEntryOf,
} from '@taptrue/protocol';
import { makePlan } from '@taptrue/server/plan/make-plan.ts';
import { STANDARD_SETS } from '@taptrue/server/plan/sets/standard-sets.ts';
import { checkRecordings } from '@taptrue/server/records/exchange/check-recordings.ts';
import { RecordingRefused } from '@taptrue/server/records/exchange/recording-faults.ts';
import { proofSheet } from '@taptrue/server/records/sheet/proof-sheet.ts';
import { sheetFacts } from '@taptrue/server/records/sheet/sheet-facts.ts';
import { describe, expect, test } from 'vitest';
import { AtTheBench } from '../../bench/at-the-bench.ts';
import { linesOf } from './lines-of.ts';

function swept(): AtTheBench {
  const at = new AtTheBench({ rises: 'toward', limit: { kind: 'angle', rad: 0.001 } });
  at.must({ kind: 'set stage', stage: 'tight' });
  at.sweepKeyed(['0', '0.0001', '0.0001', '0.0002', '0.0002']);
  return at;
}

const WHEN = '2026-11-25T09:30:00.000Z';

/** As the service signs: the fingerprint is over all lines up to `signing`. */
function sign(at: AtTheBench, said: Partial<RecordEntryOf<'signed'>> = {}, who = 'A. Hand'): void {
  const cautions = at.state.bench.cautions.map((caution) => ({ ...caution, ticked: true }));
  const signing = { who, role: 'set by', wallClock: WHEN, cautions } as const;
  at.recorded.push({ entry: 'signing', atMs: at.nowMs, ...signing });
  const { lines, sha256 } = sheetFacts(linesOf(at.recorded))!.fingerprint;
  const signed = { ...signing, lines, fingerprint: sha256, ...said };
  at.recorded.push({ entry: 'signed', atMs: at.nowMs, ...signed });
}

function page(entries: readonly RecordEntry[]): string {
  const facts = sheetFacts(linesOf(entries))!;
  return proofSheet(facts, { paper: 'a4', printedText: 'printed 2026-11-25' });
}

describe('a signature on paper', () => {
  test('stands alone where nothing was done after it', () => {
    const at = swept();
    sign(at);
    expect(page(at.recorded)).not.toContain('signed, ');
  });

  test.each<[string, Command[], string]>([
    ['the card', [{ kind: 'change card', change: { part: 'Another' } }], 'the card was changed'],
    [
      'the limit',
      [{ kind: 'change setup', change: { limit: { kind: 'angle', rad: 0.1 } } }],
      'the setup was changed',
    ],
    ['the clamps', [{ kind: 'set stage', stage: 'free' }], 'the clamps were changed'],
    [
      'the vise',
      [
        { kind: 'park', xMm: 127, keyed: '0.0002' },
        { kind: 'tap reading', keyed: '0.0012' },
        { kind: 'leave tap' },
      ],
      '1 tap was noticed',
    ],
  ])('does not stand for a page on which %s was changed after it', (_what, commands, words) => {
    const at = swept();
    sign(at);
    for (const command of commands) at.must(command);
    expect(page(at.recorded)).toContain(
      `After A. Hand signed, ${words}: that stands for the record before it, not for this page.`,
    );
    // Who signs then stands for it; who signed before still does not.
    sign(at, {}, 'B. Other');
    expect(page(at.recorded)).toContain(`After A. Hand signed, ${words}: that stands`);
  });

  test.each<[string, Partial<RecordEntryOf<'signed'>>]>([
    ['another name', { who: 'C. Forger' }],
    ['another role', { role: 'checked by' }],
    ['another time', { wallClock: '2026-11-26T09:30:00.000Z' }],
    ['fewer ticks', { cautions: [] }],
  ])('with %s than its line under the fingerprint does not hold', (_what, said) => {
    const at = swept();
    sign(at, said);
    const [checked] = checkRecordings(linesOf(at.recorded));
    expect(checked!.refused?.fault.code).toBe('signature-not-true');
    expect(page(at.recorded)).toContain('does not fit the record: do not trust it');
  });

  test('holds where its line has no time and no ticks, as it was written at first', () => {
    const at = swept();
    at.recorded.push({ entry: 'signing', atMs: at.nowMs, who: 'A. Hand', role: 'set by' });
    const { lines, sha256 } = sheetFacts(linesOf(at.recorded))!.fingerprint;
    at.recorded.push({
      entry: 'signed',
      atMs: at.nowMs,
      who: 'A. Hand',
      role: 'set by',
      wallClock: WHEN,
      lines,
      fingerprint: sha256,
      cautions: [],
    });
    expect([...checkRecordings(linesOf(at.recorded))][0]!.signatures).toMatchObject([
      { holds: true },
    ]);
  });
});

test('only a signature gives digits by which paper and record are matched, and none is passed over in silence', () => {
  const at = swept();
  expect(page(at.recorded)).toContain('Nobody has signed: paper and record can be matched once');
  expect(page(at.recorded)).not.toContain('--fingerprint');
  for (const who of ['A', 'B', 'C', 'D', 'E']) sign(at, {}, who);
  const text = page(at.recorded);
  const last = at.recorded.at(-1);
  const digits = last?.entry === 'signed' ? last.fingerprint.slice(0, 16) : 'none';
  expect(text).toContain(`--fingerprint ${digits}`);
  expect(text).toContain('2 more signed earlier.');
});

describe('the answer on paper', () => {
  test.each<[string, Command[], string]>([
    [
      'tapped',
      [
        { kind: 'park', xMm: 127, keyed: '0.0002' },
        { kind: 'tap reading', keyed: '0.0012' },
      ],
      'The vise was tapped since this sweep.',
    ],
    ['loosened', [{ kind: 'set stage', stage: 'free' }], 'The clamps went from tight to free'],
    ['swept again', [{ kind: 'begin sweep' }], 'Another sweep has begun since'],
  ])('says that it no longer holds once the vise was %s', (_what, commands, words) => {
    const at = swept();
    expect(page(at.recorded)).not.toContain('no longer says how the vise lies');
    for (const command of commands) at.must(command);
    expect(page(at.recorded)).toContain(`It no longer says how the vise lies: ${words}`);
  });

  test('is the one by the limit and the axis it was swept by, whatever was set since, and says so', () => {
    const at = swept();
    const before = page(at.recorded);
    expect(before).toContain('±0° 3′ 26″');
    // 0.00003 rad are 6.2 seconds of arc: less than the edge lies off.
    at.must({
      kind: 'change setup',
      change: { limit: { kind: 'angle', rad: 0.00003 }, axis: 'y' },
    });
    const text = page(at.recorded);
    expect(text).toContain('<strong>true</strong>');
    expect(text).toContain('±0° 3′ 26″');
    expect(text).toContain('Changed since this sweep: axis, limit.');
    expect(text).not.toContain('±0° 0′ 6″');
    expect(sheetFacts(linesOf(at.recorded))!.state.setup.axis).toBe('x');
  });

  test('reckons with the plan that was swept for, or says that the plan came later', () => {
    const at = swept();
    const planned = makePlan(
      { ...firstQuestion(), angle: { text: '12deg30min', kind: 'angle' } },
      STANDARD_SETS,
    );
    if (!planned.ok) throw new Error(planned.fault.what);
    const { answer } = planned;
    const question = firstQuestion();
    const plan = { entry: 'plan used', question, answer, taken: [], takenLow: [] } as const;
    at.recorded.push({ ...plan, atMs: at.nowMs, taken: [], takenLow: [] });
    const later = 'This plan was taken after the last sweep';
    expect(page(at.recorded)).toContain(later);
    at.sweepKeyed(['0', '0.0001', '0.0001', '0.0002', '0.0002']);
    expect(page(at.recorded)).not.toContain(later);
  });

  test('has its points where its line is, also where the stylus was found to be inclined after the sweep', () => {
    const at = swept();
    at.must({ kind: 'change setup', change: { stylus: { kind: 'stylus angle', rad: 1 } } });
    // Common practice, no source: y = -r where it rises toward; the sweep keeps the stylus it was taken with.
    expect(sheetFacts(linesOf(at.recorded))!.final.surfacePerReading).toBe(-1);
    at.sweepKeyed(['0', '0.0001', '0.0001', '0.0002', '0.0002']);
    // Common practice, no source: true = reading × cos α for a lever indicator.
    const { surfacePerReading } = sheetFacts(linesOf(at.recorded))!.final;
    expect(surfacePerReading).toBeCloseTo(-Math.cos(1), 12);
  });

  test('is not printed from a part of the record: a line in its middle that cannot be read is a refusal', () => {
    const at = swept();
    at.sweepKeyed(['0', '0.0100', '0.0200', '0.0300', '0.0400']);
    const lines = linesOf(at.recorded);
    const second = lines.findIndex(({ bytes }) => String(bytes).includes('Sweep 2 begins'));
    const damaged = lines.with(second, { ...lines[second]!, bytes: Buffer.from('{"entry":"?"}') });
    expect(() => sheetFacts(damaged)).toThrow(RecordingRefused);
  });
});
