import { describe, expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

/** Swept from 0 to 127 mm by a streaming readout on b = 0.0008; the table then stands at 127. */
function sweptByReadout(displayUnit: 'mm' | 'in' = 'mm', counts: 1 | -1 = 1) {
  const at = new AtTheBench({ rises: 'away', way: 'readout', counts, displayUnit });
  at.connect('indicator');
  at.connect('readout');
  at.must({ kind: 'begin sweep' });
  const goTo = (xMm: number) => {
    at.nowMs += 20;
    at.reads('readout', counts * xMm);
    at.reads('indicator', Number((0.0008 * xMm).toFixed(3)));
    at.bench.tick(at.nowMs);
  };
  for (let xMm = 0; xMm <= 127; xMm += 0.5) goTo(xMm);
  at.must({ kind: 'end sweep' });
  const stands = (xMm: number, readingMm: number, forMs = 600) => {
    for (let ms = 0; ms < forMs; ms += 20) {
      at.nowMs += 20;
      at.reads('readout', counts * xMm);
      at.reads('indicator', readingMm);
    }
  };
  stands(127, 0.102);
  return { at, stands };
}

describe.each([
  ['mm', 1],
  ['in', -1],
] as const)('parked under a live readout, in %s, counting %d', (unit, counts) => {
  test('a place the readout contradicts is refused with both numbers', () => {
    const { at } = sweptByReadout(unit, counts);
    const answer = at.say({ kind: 'park', xMm: 0 });
    expect(answer).toMatchObject({ ok: false, fault: { code: 'parked-elsewhere' } });
    if (!answer.ok) {
      expect(answer.fault.got).toContain(unit === 'mm' ? '127.0' : '5.0');
      expect(answer.fault.got).toContain('0.000');
    }
    expect(at.state.tap).toBeNull();
  });

  test('parking takes the place from the readout', () => {
    const { at } = sweptByReadout(unit, counts);
    at.must({ kind: 'park', xMm: 126.6 });
    expect(at.state.tap!.parkedAtMm).toBeCloseTo(127, 9);
  });

  test('a table moved while parked ends the parking, and is no tap', () => {
    const { at, stands } = sweptByReadout(unit, counts);
    at.must({ kind: 'park', xMm: 127 });
    stands(127, 0.102);
    for (let xMm = 127; xMm >= 97; xMm -= 0.5) stands(xMm, 0.0008 * xMm, 20);
    stands(97, 0.078);
    expect(at.state.tap).toBeNull();
    expect(at.recorded.filter(({ entry }) => entry === 'tap step')).toEqual([]);
    expect(at.state.sweep!.outdated).toBe('');
    expect(at.state.faults.standing.map(({ code }) => code)).toContain('moved-while-parked');
  });

  test('a blow on a standing table is a tap, though the scale trembles', () => {
    const { at, stands } = sweptByReadout(unit, counts);
    at.must({ kind: 'park', xMm: 127 });
    stands(127, 0.102);
    stands(127.01, 0.075);
    expect(at.state.tap!.steps).toHaveLength(1);
    expect(at.recorded.filter(({ entry }) => entry === 'tap step')).toHaveLength(1);
    // One wild position is not a moved table.
    stands(90, 0.075, 20);
    stands(127, 0.075);
    expect(at.state.tap).not.toBeNull();
  });
});
