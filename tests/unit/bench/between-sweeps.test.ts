import { describe, expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

const TRUE_TO_LIMIT = ['0.0000', '0.0001', '0.0002', '0.0003', '0.0004'];
const FAR_OUT = ['0.0000', '0.0010', '0.0020', '0.0030', '0.0040'];
const LEVEL = ['-0.0001', '-0.0001', '-0.0001', '-0.0001', '-0.0001'];

function sweptAtTight(): AtTheBench {
  const at = new AtTheBench({ rises: 'toward' });
  at.must({ kind: 'set stage', stage: 'tight' });
  at.sweepKeyed(TRUE_TO_LIMIT);
  expect(at.job.standing).toBe('true');
  return at;
}

describe('clamps changed and put back between two sweeps', () => {
  test('void the sweep before: tight again it is not measured, until it is swept', () => {
    const at = sweptAtTight();
    at.must({ kind: 'set stage', stage: 'snug' });
    expect(at.job.standing).toBe('loose');
    at.must({ kind: 'set stage', stage: 'tight' });
    expect(at.job).toMatchObject({
      standing: 'not measured',
      sentence: 'Clamps changed since the last sweep.',
    });
    expect(at.state.sweep!.outdated).toContain('tight again');
    at.sweepKeyed(TRUE_TO_LIMIT);
    expect(at.job.standing).toBe('true');
    expect(at.state.sweep!.outdated).toBe('');
  });

  test('at another stage it is loose, and the sentence says why the sweep holds no longer', () => {
    const at = new AtTheBench({ rises: 'toward' });
    at.sweepKeyed(TRUE_TO_LIMIT);
    at.must({ kind: 'set stage', stage: 'free' });
    at.must({ kind: 'set stage', stage: 'nipped' });
    expect(at.job.standing).toBe('loose');
    expect(at.job.sentence).toContain('Clamps changed since the last sweep.');
  });

  test.each(['abandon sweep', 'end sweep'] as const)(
    'a sweep without a line proves nothing of them: %s',
    (kind) => {
      const at = sweptAtTight();
      at.must({ kind: 'set stage', stage: 'snug' });
      at.must({ kind: 'set stage', stage: 'tight' });
      at.must({ kind: 'begin sweep' });
      at.must({ kind });
      expect(at.job.standing).toBe('not measured');
    },
  );

  test('a new job starts without them', () => {
    const at = sweptAtTight();
    at.must({ kind: 'set stage', stage: 'snug' });
    at.must({ kind: 'new job' });
    at.sweepKeyed(TRUE_TO_LIMIT);
    expect(at.job.sentence).toContain('True at nipped');
  });

  test('teach no pivot', () => {
    const at = new AtTheBench({ rises: 'toward' });
    at.sweepKeyed(FAR_OUT);
    at.must({ kind: 'set stage', stage: 'tight' });
    at.must({ kind: 'set stage', stage: 'nipped' });
    at.sweepKeyed(LEVEL);
    expect(at.state.pivot).toMatchObject({
      inUse: 'declared',
      evidence: [{ used: false, why: 'the clamps were changed between the two sweeps' }],
    });
  });

  test('and no more than one pair of sweeps: the next pair teaches', () => {
    const at = new AtTheBench({ rises: 'toward' });
    at.must({ kind: 'set stage', stage: 'snug' });
    at.sweepKeyed(FAR_OUT);
    at.sweepKeyed(LEVEL);
    at.must({ kind: 'answer turn', yes: true });
    expect(at.state.pivot.evidence).toMatchObject([{ used: true }]);
  });
});

describe('the last digit typed belongs to the sweep it was typed in', () => {
  const uncertaintyOf = (at: AtTheBench) => at.result.angleStandardUncertaintyArcsec!;

  test.each(['abandon sweep', 'end sweep'] as const)(
    'one coarse reading in a sweep that gives no line leaves the sweep before as it was: %s',
    (kind) => {
      const at = sweptAtTight();
      const before = uncertaintyOf(at);
      at.must({ kind: 'begin sweep' });
      at.keyStation('0.01');
      at.must({ kind });
      at.must({ kind: 'change setup', change: { displayUnit: 'mm' } });
      expect(uncertaintyOf(at)).toBeCloseTo(before, 9);
      expect(at.job.standing).toBe('true');
    },
  );

  test('a finer reading typed at the mallet does not make the sweep surer', () => {
    const at = new AtTheBench({ rises: 'toward' });
    at.sweepKeyed(['0.000', '0.001', '0.002', '0.003', '0.004']);
    const before = uncertaintyOf(at);
    at.must({ kind: 'park', xMm: 127, keyed: '0.00400' });
    at.must({ kind: 'change setup', change: { displayUnit: 'mm' } });
    expect(uncertaintyOf(at)).toBeCloseTo(before, 9);
  });
});

test.each(['abandon sweep', 'end sweep'] as const)(
  'a limit made tighter during a sweep without a line voids the sweep before it, which keeps its own: %s',
  (kind) => {
    const at = sweptAtTight();
    at.must({ kind: 'begin sweep' });
    const limit = { kind: 'end to end', mm: 0.005, overMm: null } as const;
    at.must({ kind: 'change setup', change: { limit } });
    at.must({ kind });
    expect(at.job.standing).toBe('not measured');
    expect(at.result.verdict).toBe('true');
    expect(at.state.history.sweeps[0]!.result.verdict).toBe('true');
  },
);
