import type { Fault } from '@taptrue/protocol';
import { LagWatch } from '@taptrue/server/bench/lag-watch.ts';
import {
  countingReversed,
  doublingSuspected,
  travelWords,
} from '@taptrue/server/bench/nudge-suspicions.ts';
import { SADDLE_LIMIT_MM } from '@taptrue/server/bench/sweep-watch.ts';
import { ThinnedSamples } from '@taptrue/server/measure/pairing/thin-samples.ts';
import { describe, expect, it } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

/** A bench with both devices streaming and the counting known. */
function withReadout(): AtTheBench {
  const at = new AtTheBench({ way: 'readout', counts: 1, rises: 'toward', displayUnit: 'mm' });
  at.connect('indicator');
  at.connect('readout');
  return at;
}

function otherAxis(at: AtTheBench, valueMm: number): void {
  at.bench.otherAxis('readout', {
    sequence: 0,
    atMs: at.nowMs,
    text: `Y ${valueMm}`,
    channel: 'Y',
    value: valueMm,
    unit: 'mm',
    valueMm,
    decimals: 3,
    status: 'ok',
  });
}

/** Out over 127 mm and back, `lagMs` between the touch and the reading; the other axis as given along the way. */
function sweep(
  at: AtTheBench,
  mmPerS: number,
  {
    slope = 0.01,
    lagMs = 0,
    otherMm = () => 0,
  }: { slope?: number; lagMs?: number; otherMm?: (xMm: number) => number } = {},
): void {
  at.must({ kind: 'begin sweep' });
  const legMs = (127 / mmPerS) * 1000;
  const beganMs = at.nowMs;
  const xAt = (ms: number) => {
    const inLeg = Math.min(Math.max(ms, 0), 2 * legMs);
    return inLeg <= legMs ? (127 * inLeg) / legMs : 127 * (2 - inLeg / legMs);
  };
  for (let ms = 0; ms <= 2 * legMs; ms += 50) {
    at.nowMs = beganMs + ms;
    at.reads('readout', xAt(ms));
    otherAxis(at, otherMm(xAt(ms)));
    at.reads('indicator', Number((slope * xAt(ms - lagMs)).toFixed(3)));
  }
  at.must({ kind: 'end sweep' });
}

const cautions = (at: AtTheBench) => at.result.cautions.map(({ code }) => code);
const standing = (at: AtTheBench) => at.state.faults.standing.map(({ code }) => code);

describe('the other axis, listened to during a sweep', () => {
  it('says nothing while it trembles within its limit', () => {
    const at = withReadout();
    sweep(at, 20, { otherMm: (xMm) => (xMm > 60 ? SADDLE_LIMIT_MM * 0.9 : 0) });
    expect(cautions(at)).not.toContain('saddle-moved');
  });

  it('that is nudged is a caution on that sweep, with how far, and not on the next', () => {
    const at = withReadout();
    sweep(at, 20, { otherMm: (xMm) => (xMm > 60 ? 0.127 : 0) });
    const [caution] = at.result.cautions.filter(({ code }) => code === 'saddle-moved');
    expect(caution?.text).toMatch(/The other axis \(Y\) moved by 0\.127.*Lock it and sweep again/);
    expect(at.state.history.sweeps[0]?.result.cautions).toContainEqual(caution);
    // It stands elsewhere now, and stays there.
    sweep(at, 20, { otherMm: () => 0.127 });
    expect(cautions(at)).not.toContain('saddle-moved');
  });

  it('says how far the saddle nudge went', () => {
    const at = new AtTheBench({ displayUnit: 'mm', entry: 'device' });
    at.connect('indicator');
    at.connect('readout');
    at.reads('indicator', 0.2);
    otherAxis(at, 30);
    at.must({ kind: 'begin nudge', nudge: 'y' });
    at.nowMs += 500;
    at.reads('indicator', 0.073);
    otherAxis(at, 30.127);
    const note = at.must({ kind: 'finish nudge', nudge: 'y' });
    expect(at.state.nudges.y).toMatchObject({ state: 'done', movedMm: expect.closeTo(0.127, 6) });
    expect(at.state.nudges.y.factor).toBeCloseTo(1, 6);
    expect(note).toMatch(/other axis moved by 0\.127.*reckoned with/);
  });

  it('says nothing of a nudge where it was last heard long ago: the distance must then be said', () => {
    const at = new AtTheBench({ displayUnit: 'mm', entry: 'device' });
    at.connect('indicator');
    at.connect('readout');
    otherAxis(at, 30);
    at.nowMs += 5000;
    at.reads('indicator', 0.2);
    at.must({ kind: 'begin nudge', nudge: 'y' });
    at.reads('indicator', 0.073);
    expect(at.refused({ kind: 'finish nudge', nudge: 'y' })).toBe('nudge-no-move');
  });

  it.each<[string, number | null, number | null, RegExp]>([
    ['not listened to', 0.127, null, /^$/],
    ['as said', 0.127, 0.125, /^$/],
    ['not as said', 0.127, 0.08, /not by what was said/],
    ['twice as said', 0.127, 0.254, /set to diameter/],
    ['said alone', null, 0.127, /reckoned with/],
  ])('%s', (_what, saidMm, readMm, words) => {
    expect(travelWords(saidMm, readMm, 'mm')).toMatch(words);
  });
});

describe('what a nudge makes suspect', () => {
  const nudged = (at: AtTheBench, afterMm: number) => {
    at.reads('indicator', 0);
    at.must({ kind: 'begin nudge', nudge: 'y' });
    at.reads('indicator', afterMm);
    at.must({ kind: 'finish nudge', nudge: 'y', movedMm: 0.1 });
  };

  it.each([
    [0.1, []],
    [0.2, ['doubling-suspected']],
    [0.05, ['doubling-suspected']],
    [0.14, []],
  ])('0.1 mm shown as %f mm: %o', (afterMm, codes) => {
    const at = new AtTheBench({ displayUnit: 'mm', entry: 'device' });
    at.connect('indicator');
    nudged(at, afterMm);
    expect(standing(at)).toEqual(codes);
  });

  it('a dial that counts the other way than at its last nudge, and not one nudged for the first time', () => {
    const at = new AtTheBench({ displayUnit: 'mm', entry: 'device' });
    at.connect('indicator');
    nudged(at, 0.1);
    expect(standing(at)).toEqual([]);
    at.must({ kind: 'new job' });
    nudged(at, -0.1);
    expect(standing(at)).toEqual(['counting-reversed']);
    expect(at.state.setup.rises).toBe('toward');
  });

  it.each<[Fault, RegExp]>([
    [doublingSuspected(0.5, 'finding')!, /diameter/],
    [doublingSuspected(2, 'finding')!, /radius/],
    [countingReversed('indicator', 'finding'), /turned over/],
    [countingReversed('readout', 'finding'), /mark the ends/],
  ])('says what and what to do', (fault, words) => {
    expect(`${fault.what} ${fault.remedy}`).toMatch(words);
    expect(fault.got).toBe('finding');
  });
});

describe('lag, from sweeps out and back', () => {
  it('is measured from a slow and a fast one, and once set it corrects the places of the next', () => {
    const at = withReadout();
    sweep(at, 5, { lagMs: 150 });
    expect(at.state.timing.measured).toBeNull();
    expect(at.state.timing.whyNot).toMatch(/one speed.*twice the speed/i);
    sweep(at, 20, { lagMs: 150 });
    expect(at.state.timing.measured?.lagMs).toBeCloseTo(150, -1);
    const loopBeforeMm = at.result.gapMm;
    at.must({
      kind: 'change setup',
      change: { timing: { indicatorMs: 150, readoutMs: 0, scanOffsetMs: 0, from: 'measured' } },
    });
    sweep(at, 20, { lagMs: 150 });
    expect(Math.abs(loopBeforeMm ?? 0)).toBeGreaterThan(0.04);
    expect(Math.abs(at.result.gapMm ?? 1)).toBeLessThan(0.004);
  });

  it('is told whole where part of it was taken off already', () => {
    const at = withReadout();
    at.must({
      kind: 'change setup',
      change: { timing: { indicatorMs: 100, readoutMs: 0, scanOffsetMs: 0, from: 'declared' } },
    });
    sweep(at, 5, { lagMs: 150 });
    sweep(at, 20, { lagMs: 150 });
    expect(at.state.timing.measured?.lagMs).toBeCloseTo(150, -1);
  });

  it('a box that reads its channels one after another is set right by the offset it declares', () => {
    const at = withReadout();
    at.must({
      kind: 'change setup',
      change: { timing: { indicatorMs: 0, readoutMs: 0, scanOffsetMs: -120, from: 'declared' } },
    });
    // Read 120 ms before the position it is sent with: as late by that.
    sweep(at, 20, { lagMs: 120 });
    expect(Math.abs(at.result.gapMm ?? 1)).toBeLessThan(0.004);
  });

  it('is not pieced together over a tap or another zero', () => {
    const at = withReadout();
    sweep(at, 5, { lagMs: 150 });
    at.must({ kind: 'zero moved' });
    sweep(at, 20, { lagMs: 150 });
    expect(at.state.timing.measured).toBeNull();
  });

  it('of one job is not shown in the next, which a replay would begin without it', () => {
    const at = withReadout();
    sweep(at, 5, { lagMs: 150 });
    sweep(at, 20, { lagMs: 150 });
    at.must({ kind: 'new job' });
    expect(at.state.timing).toEqual({ measured: null, whyNot: '' });
  });

  it('may not be changed while a sweep is taken', () => {
    const at = withReadout();
    at.must({ kind: 'begin sweep' });
    const timing = { indicatorMs: 1, readoutMs: 0, scanOffsetMs: 0, from: 'declared' } as const;
    expect(at.refused({ kind: 'change setup', change: { timing } })).toBe('sweep-being-taken');
  });

  it('keeps no more than four sweeps, each thinned', () => {
    const samples = new ThinnedSamples();
    for (let index = 0; index < 100_000; index += 1) {
      samples.add({ xMm: index, readingMm: 0, atMs: index });
    }
    expect(samples.samples.length).toBeLessThanOrEqual(2048);
    expect(samples.samples.length).toBeGreaterThan(900);
    expect(samples.samples.at(-1)!.xMm).toBeGreaterThan(99_000);
    const watch = new LagWatch();
    expect(watch.sweepEnded([], 0).whyNot).toMatch(/out and back/);
  });
});

describe('a unit switched while a sweep is taken', () => {
  it('on a line that names it, is a caution on that sweep', () => {
    const at = withReadout();
    at.must({ kind: 'begin sweep' });
    for (let step = 0; step <= 20; step += 1) {
      at.nowMs += 50;
      at.reads('readout', step * 5);
      at.reads('indicator', step * 0.01);
    }
    const fault = {
      code: 'unit-changed' as const,
      what: 'The indicator now sends inches.',
      got: '',
      remedy: '',
    };
    at.report('indicator', { state: 'not understood', fault });
    at.must({ kind: 'end sweep' });
    expect(cautions(at)).toContain('unit-switched');
  });

  it('on a line that names none, too', () => {
    const at = withReadout();
    at.must({ kind: 'begin sweep' });
    for (let step = 0; step <= 20; step += 1) {
      at.nowMs += 50;
      at.reads('readout', step * 5);
      if (step < 15) at.reads('indicator', 1 + step * 0.001);
      else at.reads('indicator', (1 + step * 0.001) / 25.4, { decimals: 5 });
    }
    at.must({ kind: 'end sweep' });
    expect(cautions(at).filter((code) => code === 'unit-switched')).toHaveLength(1);
  });
});
