import { expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

/** A streamed sweep is to come; which way the readout counts is not known yet. */
function beforeTheFirstSweep(remembered: ConstructorParameters<typeof AtTheBench>[1] = null) {
  const at = new AtTheBench({ rises: 'toward', way: 'readout' }, remembered);
  at.connect('indicator');
  at.connect('readout');
  return at;
}

function markEnd(at: AtTheBench, end: 'left' | 'right', countMm: number): void {
  at.rests('readout', countMm, 60);
  at.must({ kind: 'mark end', end });
}

function skippedInASweep(at: AtTheBench) {
  at.must({ kind: 'begin sweep' });
  return at.state.sweep!.nudgesSkipped;
}

test.each([
  [227, 1, 'rises'],
  [-27, -1, 'falls'],
] as const)(
  'ends marked at 100 and %d settle the counting, %d: the X nudge is not missing',
  (rightMm, counts, word) => {
    const at = beforeTheFirstSweep();
    markEnd(at, 'left', 100);
    expect(at.state.nudges.x.finding).toBe('');
    markEnd(at, 'right', rightMm);
    expect(at.state.setup.counts).toBe(counts);
    expect(at.state.nudges.x).toMatchObject({ state: 'not done' });
    expect(at.state.nudges.x.finding).toContain(`The ends were marked: the count ${word}`);
    expect(skippedInASweep(at)).toEqual(['y']);
  },
);

test('what the ends showed outlives a skipped or unfinished nudge and a restart', () => {
  const at = beforeTheFirstSweep();
  markEnd(at, 'left', 100);
  markEnd(at, 'right', 227);
  at.must({ kind: 'begin nudge', nudge: 'x' });
  at.must({ kind: 'skip nudge', nudge: 'x' });
  const { setup, nudges } = at.bench;
  const later = beforeTheFirstSweep({ setup, nudges });
  expect(later.state.nudges.x).toMatchObject({ state: 'not done', remembered: true });
  expect(skippedInASweep(later)).toEqual(['y']);
});

test.each([
  [
    'the right end alone was marked',
    (at: AtTheBench) => {
      markEnd(at, 'right', 127);
    },
  ],
  [
    'the counting was turned by hand since',
    (at: AtTheBench) => {
      markEnd(at, 'left', 100);
      markEnd(at, 'right', 227);
      at.must({ kind: 'change setup', change: { counts: -1 } });
    },
  ],
])('the X nudge is missing where %s', (_case, happened) => {
  const at = beforeTheFirstSweep();
  happened(at);
  expect(skippedInASweep(at)).toEqual(['y', 'x']);
});

test.each(['finish nudge', 'forget nudge'] as const)(
  'an X nudge is refused whole during a sweep: %s',
  (kind) => {
    const at = beforeTheFirstSweep();
    at.must({ kind: 'change setup', change: { counts: 1 } });
    at.rests('readout', 100);
    at.must({ kind: 'begin nudge', nudge: 'x' });
    at.must({ kind: 'begin sweep' });
    at.rests('readout', 110);
    const before = at.state.nudges;
    expect(at.refused({ kind, nudge: 'x' })).toBe('sweep-being-taken');
    expect(at.state.nudges).toBe(before);
    expect(at.state.setup.counts).toBe(1);
    at.must({ kind: 'abandon sweep' });
    at.must({ kind, nudge: 'x' });
    expect(at.state.setup.counts).toBe(kind === 'finish nudge' ? -1 : null);
  },
);
