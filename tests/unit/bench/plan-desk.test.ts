import { firstSetup, PROTOCOL_VERSION, type SweepResult } from '@taptrue/protocol';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { PlanDesk } from '@taptrue/server/plan/plan-desk.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { describe, expect, it } from 'vitest';

function desk() {
  const store = new SectionStore(firstState('mill', PROTOCOL_VERSION));
  return { store, desk: new PlanDesk(store, null) };
}

/** 7°30' ±5' on a 5 in bar: 5 sin 7.5° = 0.65263 in, which the 81-piece set makes as 0.6526. */
function planned() {
  const made = desk();
  made.desk.change({
    angle: { text: '7deg30min', kind: 'angle' },
    tolerance: { kind: 'angle', text: '5min' },
  });
  return made;
}

describe('a plan as it is filled in', () => {
  it('is neither made nor refused before an angle is typed', () => {
    const { store } = desk();
    expect(store.get('plan')).toMatchObject({ answer: null, refusal: null, built: false });
  });

  it('names the field that stops it', () => {
    const made = desk();
    made.desk.change({ angle: { text: '95deg', kind: 'angle' } });
    const { refusal, answer } = made.store.get('plan');
    expect(answer).toBeNull();
    expect(refusal?.field).toContain('angle');
    expect(refusal?.fault.remedy).not.toBe('');
  });

  it('counts as built only once the blocks actually taken add up', () => {
    const { store, desk: plan } = planned();
    const { blocks } = store.get('plan').answer!.stack!;
    expect(store.get('plan').built).toBe(false);
    plan.taken([...blocks.slice(0, -1), '0.250']);
    expect(store.get('plan')).toMatchObject({ built: false, takenCheck: { adds: false } });
    plan.taken([...blocks].reverse());
    expect(store.get('plan')).toMatchObject({ built: true, takenCheck: { adds: true } });
  });

  it('with blocks under both rolls counts as built only once both stacks add up', () => {
    const { store, desk: plan } = desk();
    plan.change({
      angle: { text: '30min', kind: 'angle' },
      decisions: { steep: null, shallow: 'both rolls', nearest: null },
    });
    const { stack, lowRollStack } = store.get('plan').answer!;
    plan.taken(stack!.blocks);
    expect(store.get('plan').built).toBe(false);
    plan.taken(lowRollStack!.blocks, 'other roll');
    expect(store.get('plan')).toMatchObject({ built: true, takenLowCheck: { adds: true } });
  });

  it('shows the pivot at the clamp the bench turns about, and the mallet at the other end', () => {
    const { store, desk: plan } = planned();
    expect(store.get('plan').answer?.picture).toMatchObject({
      pivotEnd: 'left',
      malletEnd: 'right',
    });
    const setup = store.get('setup');
    store.set('setup', {
      ...setup,
      pivot: { ...setup.pivot, choice: 'right clamp' },
      malletMm: setup.vise.leftEndMm,
    });
    plan.setUp();
    expect(store.get('plan').answer?.picture).toMatchObject({
      pivotEnd: 'right',
      malletEnd: 'left',
    });
  });

  it('forgets the blocks taken when the height changes, not when the tolerance does', () => {
    const { store, desk: plan } = planned();
    plan.taken(store.get('plan').answer!.stack!.blocks);
    plan.change({ tolerance: { kind: 'angle', text: '2min' } });
    expect(store.get('plan').built).toBe(true);
    plan.change({ angle: { text: '8deg', kind: 'angle' } });
    expect(store.get('plan')).toMatchObject({ built: false, taken: [] });
  });
});

describe('going on to the sweep', () => {
  it('is refused until the stack is built', () => {
    const { desk: plan } = planned();
    const used = plan.use(firstSetup());
    expect(used.ok).toBe(false);
    if (!used.ok && !used.answer.ok) expect(used.answer.fault.code).toBe('plan-not-built');
  });

  it('carries limit, axis, target and length over', () => {
    const { store, desk: plan } = planned();
    plan.taken(store.get('plan').answer!.stack!.blocks);
    const used = plan.use(firstSetup());
    if (!used.ok) throw new Error('refused');
    // A quarter of ±5' is 75 seconds of arc: 75 × 4.84813681e-6 rad (CHECKS of small angles, computed).
    expect(used.change.limit).toMatchObject({ kind: 'angle' });
    if (used.change.limit?.kind === 'angle') {
      expect(used.change.limit.rad).toBeCloseTo(75 * 4.84813681e-6, 9);
    }
    expect(used.change).toMatchObject({ axis: 'x', targetSlope: 0, sweptLengthMm: 127 });
  });

  it('is in use until the question changes again', () => {
    const { store, desk: plan } = planned();
    plan.taken(store.get('plan').answer!.stack!.blocks);
    plan.carried();
    expect(store.get('plan').inUse).toBe(true);
    plan.change({ setUpShare: 0.1 });
    expect(store.get('plan').inUse).toBe(false);
  });

  it('takes the measured part of the sweep into the budget, as long as the plan is in use', () => {
    const { store, desk: plan } = planned();
    plan.taken(store.get('plan').answer!.stack!.blocks);
    const sources = () => store.get('plan').answer!.budget!.lines.map((line) => line.distribution);
    const result = { angleStandardUncertaintyArcsec: 2.5, degreesOfFreedom: 40 } as SweepResult;
    plan.swept(result);
    expect(sources()).not.toContain('measured');
    plan.carried();
    plan.swept(result);
    expect(sources()).toContain('measured');
    expect(store.get('plan').inUse).toBe(true);
    plan.change({ setUpShare: 0.1 });
    expect(sources()).not.toContain('measured');
  });

  it('needs no stack for a jaw set straight', () => {
    const made = desk();
    made.desk.change({ angle: { text: '0deg', kind: 'angle' } });
    expect(made.store.get('plan')).toMatchObject({ built: true, answer: { way: 'jaw straight' } });
  });
});

describe('jobs', () => {
  it('opened from a file are what was exported', () => {
    const { store, desk: plan } = planned();
    plan.taken(store.get('plan').answer!.stack!.blocks);
    const file = structuredClone(plan.jobFile);
    const other = desk();
    other.desk.open(file, null);
    expect(other.desk.jobFile).toEqual(file);
    expect(other.store.get('plan').built).toBe(true);
  });

  it('say when they differ from what is kept', () => {
    const { store, desk: plan } = planned();
    plan.kept('plate');
    expect(store.get('plan')).toMatchObject({ jobId: 'plate', changed: false });
    plan.change({ job: 'plate, second op' });
    expect(store.get('plan').changed).toBe(true);
  });

  it('a new plan keeps bar, jaw and set', () => {
    const { desk: plan } = planned();
    plan.change({
      setId: 'metric-87',
      bar: { length: '100mm', lengthIs: 'nominal', lengthUncertainty: null, rollDiameter: null },
    });
    plan.renew();
    expect(plan.question).toMatchObject({
      setId: 'metric-87',
      angle: { text: '' },
      tolerance: null,
      bar: { length: '100mm' },
    });
  });
});
