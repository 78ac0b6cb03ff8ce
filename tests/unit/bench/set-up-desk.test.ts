import { type Command, PROTOCOL_VERSION, type RecordEntry } from '@taptrue/protocol';
import { Bench } from '@taptrue/server/bench/bench.ts';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { recompute } from '@taptrue/server/records/journal/recompute.ts';
import { loadSetUps, SHIPPED_SET_UPS } from '@taptrue/server/records/set-ups/load-set-ups.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { describe, expect, it } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

const IN_MM = {
  displayUnit: 'mm',
  keyedAs: { kind: 'length', unit: 'mm' },
  indicator: {
    resolutionMm: 0.001,
    permissibleErrorMm: null,
    repeatabilityMm: null,
    rangeMm: null,
  },
} as const;

function begun(name: string, told: Record<string, string> = {}): AtTheBench {
  const at = new AtTheBench(IN_MM);
  at.must({ kind: 'choose set-up', name });
  for (const [ask, text] of Object.entries(told)) at.must({ kind: 'tell set-up', ask, text });
  return at;
}

function key(at: AtTheBench, places: readonly number[], readingMm: (place: number) => number) {
  for (const place of places) {
    at.must({
      kind: 'take set-up reading',
      at: String(place),
      keyed: readingMm(place).toFixed(4),
      sure: true,
    });
  }
}

const EIGHT = [0, 45, 90, 135, 180, 225, 270, 315];
const LINE = [0, 25, 50, 75, 100];
/** What a height indicator shows of a face that rises to the right by `slope`, with a micron of scatter. */
const rising = (slope: number) => (x: number) => slope * x + (x % 50 === 0 ? 0.001 : 0);
const chosen = (at: AtTheBench) => at.state.setUps.chosen!;

describe('a head on the screen', () => {
  // Worked by hand: high at 90 degrees (away) by 0.05 mm. The sweep lies low there, so the top leans away and
  // must come toward the operator, by the whole movement of the needle over the diameter of the sweep.
  const highAway = (deg: number) => 0.05 * Math.sin((deg * Math.PI) / 180);

  it('is read, told which way to move, kept in the record and told again', () => {
    const at = begun('head', { diameter: '200', rises: 'toward' });
    expect(chosen(at)).toMatchObject({ judged: null, whyNot: { code: 'too-few-places-round' } });
    key(at, EIGHT, highAway);
    const { judged } = chosen(at);
    expect(judged).toMatchObject({
      verdict: 'not true',
      correction: 'Top of the head forward, toward you: 0.100 mm.',
    });
    at.must({ kind: 'keep set-up' });
    expect(at.refused({ kind: 'keep set-up' })).toBe('nothing-to-keep');
    const kept = at.recorded.filter((entry) => entry.entry === 'set-up kept');
    expect(kept).toMatchObject([
      { kept: { number: 1, name: 'head', judged: { verdict: 'not true' } } },
    ]);
    expect(at.state.setUps.kept).toHaveLength(1);
  });

  it('that was kept otherwise than it comes out again is found', () => {
    const at = begun('head', { diameter: '200', rises: 'toward' });
    key(at, EIGHT, highAway);
    at.must({ kind: 'keep set-up' });
    const opened = at.recorded[0]!;
    if (opened.entry !== 'opened') throw new Error('no beginning');
    const spoilt = at.recorded.slice(1).map((entry): RecordEntry => {
      if (entry.entry !== 'set-up kept') return entry;
      const judged = { ...entry.kept.judged, verdict: 'true' as const };
      return { ...entry, kept: { ...entry.kept, judged } };
    });
    expect(recompute(opened, spoilt).differences).toHaveLength(1);
  });

  it('with fewer than seven places gives a figure and no verdict, and without a diameter neither', () => {
    const at = begun('head', { rises: 'toward' });
    key(at, [0, 120, 240], highAway);
    expect(chosen(at)).toMatchObject({ judged: null, whyNot: { code: 'set-up-lacks' } });
    at.must({ kind: 'tell set-up', ask: 'diameter', text: '8in' });
    expect(chosen(at).judged).toMatchObject({ verdict: 'too close to call' });
    expect(chosen(at).judged!.cautions.map(({ code }) => code)).toContain('few-places-round');
  });

  it('speaks of fields, not of options of the command line', () => {
    const at = begun('centre', { diameter: '50' });
    key(at, EIGHT, highAway);
    const words = chosen(at).judged!.cautions.map(({ text }) => text);
    expect(words.join(' ')).toContain('"face"');
    expect(words.join(' ')).not.toContain('--');
  });
});

describe('a line of another set-up', () => {
  it('has its own correction: a bed is shimmed by slope times spacing', () => {
    const at = begun('bed', { 'foot-spacing': '200', rises: 'toward' });
    key(at, LINE, rising(0.0005));
    // The right end is high by 0.05 in 100, so 0.1 over feet 200 mm apart, under the left one.
    expect(chosen(at).judged).toMatchObject({
      verdict: 'not true',
      correction: 'Shim 0.100 mm under the left foot.',
    });
  });

  it('takes the sweep that ended, and refuses where there is none or it is read round', () => {
    const at = begun('edge', { rises: 'toward' });
    expect(at.refused({ kind: 'take sweep for set-up' })).toBe('no-sweep-for-set-up');
    at.sweepKeyed(['0.000', '0.011', '0.020', '0.031', '0.040']);
    at.must({ kind: 'take sweep for set-up' });
    expect(chosen(at).points).toHaveLength(5);
    expect(chosen(at).judged).toMatchObject({
      correction: expect.stringContaining('Tap the right end, away from you, 0.040'),
    });
    at.must({ kind: 'choose set-up', name: 'head' });
    expect(at.refused({ kind: 'take sweep for set-up' })).toBe('no-sweep-for-set-up');
    // Back at the first, nothing of it is lost.
    at.must({ kind: 'choose set-up', name: 'edge' });
    expect(chosen(at).points).toHaveLength(5);
  });

  it.each<[string, Command]>([
    ['set-up-not-known', { kind: 'choose set-up', name: 'lathe-of-none' }],
    ['set-up-not-known', { kind: 'choose set-up', name: 'rail', axis: 'y' }],
    ['set-up-answer-not-read', { kind: 'tell set-up', ask: 'limit', text: 'a hair' }],
    ['set-up-answer-not-read', { kind: 'tell set-up', ask: 'limit', text: '-1' }],
    ['set-up-answer-not-read', { kind: 'tell set-up', ask: 'jaw-one', text: '0' }],
    ['set-up-answer-not-read', { kind: 'take set-up reading', at: 'left', keyed: '0' }],
    ['keyed-not-read', { kind: 'take set-up reading', at: '0', keyed: 'x' }],
    ['no-fresh-reading', { kind: 'take set-up reading', at: '0' }],
    ['no-part-to-aim-by', { kind: 'aim by part', stack: 'left' }],
  ])('refuses with %s', (code, command) => {
    const at = begun('edge');
    expect(at.refused(command)).toBe(code);
    expect(chosen(at).points).toEqual([]);
  });

  it('nothing is taken where none is chosen, nor beyond seventy-two places', () => {
    const none = new AtTheBench(IN_MM);
    expect(none.refused({ kind: 'take set-up reading', at: '0', keyed: '0' })).toBe(
      'set-up-not-chosen',
    );
    const at = begun('bed', { 'foot-spacing': '200' });
    key(
      at,
      Array.from({ length: 72 }, (_, index) => index),
      rising(0),
    );
    expect(at.refused({ kind: 'take set-up reading', at: '80', keyed: '0' })).toBe('set-up-full');
  });
});

describe('the part that was cut, in the job it came from', () => {
  const PART = {
    'set-angle': '30deg',
    stack: 'left',
    'set-uncertainty': '2arcsec',
    tolerance: '30arcsec',
    rises: 'toward',
  };

  it('is judged against the print, and aims the next one once', () => {
    const at = begun('part-on-plate', PART);
    key(at, LINE, rising(0.0005));
    // 0.0005 is 103 seconds too much: the next bar is to lie 0.0005 the other way, once.
    expect(chosen(at).judged).toMatchObject({
      verdict: 'not true',
      sentence: expect.stringContaining('30° 1′ 4'),
    });
    at.must({ kind: 'aim by part', stack: 'right' });
    expect(at.state.setup.targetSlope).toBeCloseTo(-0.0005, 4);
    expect(at.refused({ kind: 'aim by part', stack: 'right' })).toBe('no-part-to-aim-by');
    at.must({ kind: 'keep set-up' });
    expect(at.recorded.at(-2)).toMatchObject({
      entry: 'set-up kept',
      kept: { name: 'part-on-plate' },
    });
  });

  it('with the bar turned end for end is told apart from the bar', () => {
    const at = begun('part-on-plate', PART);
    // Textbook reversal: part 0.0002 and bar 0.0005 add one way round and subtract the other.
    key(at, LINE, rising(0.0007));
    at.must({ kind: 'turn set-up round' });
    key(at, LINE, rising(-0.0003));
    const figure = (name: string) =>
      chosen(at).judged!.figures.find((one) => one.name === name)?.value;
    expect(figure('of the bar itself')).toMatch(/1′ 4\d/);
    expect(figure('part angle')).toMatch(/30° 0′ 4[01]/);
  });
});

describe('a thirteenth set-up', () => {
  it('is one folder: chosen, read, judged and kept without another file', async () => {
    const rows = await loadSetUps([SHIPPED_SET_UPS, new URL('../set-ups/added/', import.meta.url)]);
    const store = new SectionStore(firstState('mill', PROTOCOL_VERSION));
    const recorded: RecordEntry[] = [];
    const record = (entry: RecordEntry) => void recorded.push(entry);
    const about = { name: 'mill', serviceVersion: PROTOCOL_VERSION, remembered: null, record };
    const bench = new Bench(store, { ...about, setUps: rows });
    bench.command({ kind: 'change setup', change: IN_MM }, 1);
    bench.command({ kind: 'choose set-up', name: 'thirteenth' }, 2);
    for (const x of LINE) {
      const keyed = rising(0.001)(x).toFixed(3);
      bench.command({ kind: 'take set-up reading', at: String(x), keyed, sure: true }, 3 + x);
    }
    bench.command({ kind: 'keep set-up' }, 200);
    expect(store.state.setUps.rows).toHaveLength(13);
    expect(store.state.setUps.kept).toMatchObject([
      { name: 'thirteenth', judged: { correction: 'Push the far clamp 0.100 mm.' } },
    ]);
    expect(recorded.some(({ entry }) => entry === 'set-up kept')).toBe(true);
  });
});
