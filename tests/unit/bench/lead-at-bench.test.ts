import type { Command, KeyedAs } from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';
import { AtTheBench, STATIONS_MM } from './at-the-bench.ts';

const THOU: KeyedAs = { kind: 'thousandths', unit: 'in' };
const INCHES: KeyedAs = { kind: 'length', unit: 'in' };

const station = (keyed: string, lead = false): Command => ({
  kind: 'take station',
  keyed,
  ...(lead && { lead }),
});

function keyedBench(keyedAs: KeyedAs): AtTheBench {
  return new AtTheBench({
    way: 'stations',
    entry: 'keyed',
    keyedAs,
    stationsMm: [...STATIONS_MM],
    rises: 'toward',
  });
}

const takenMm = (at: AtTheBench) => at.state.sweep?.points.map(({ readingMm }) => readingMm) ?? [];

describe('a lead that types at a bench whose hand types thousandths', () => {
  test('is not read until its unit is said, may be said in mid-sweep, and is then no shorthand', () => {
    const at = keyedBench(THOU);
    at.must({ kind: 'begin sweep' });
    at.must(station('5'));
    expect(at.refused(station('0.1250', true))).toBe('lead-unit-not-set');
    expect(takenMm(at)).toHaveLength(1);
    at.must({ kind: 'change setup', change: { leadUnit: 'in' } });
    at.must({ kind: 'take station', keyed: '0.0060', lead: true });
    at.must({ kind: 'take station', keyed: '0,0070', lead: true });
    // 5 thou by hand, then 6 and 7 thou as lengths in inches: 0.127, 0.1524, 0.1778 mm.
    for (const [index, mm] of [0.127, 0.1524, 0.1778].entries()) {
      expect(takenMm(at)[index]).toBeCloseTo(mm, 9);
    }
  });

  test('once it is said it may not be changed under a sweep', () => {
    const at = keyedBench(THOU);
    at.must({ kind: 'change setup', change: { leadUnit: 'in' } });
    at.must({ kind: 'begin sweep' });
    expect(at.refused({ kind: 'change setup', change: { leadUnit: 'mm' } })).not.toBeNull();
  });

  test('whose typing passed for a hand’s is caught by its decimals', () => {
    const at = keyedBench(THOU);
    at.must({ kind: 'begin sweep' });
    expect(at.refused(station('0.1250'))).toBe('keyed-too-fine');
    expect(at.refused({ ...station('0.1250'), sure: true } as Command)).toBe('keyed-too-fine');
    expect(takenMm(at)).toEqual([]);
  });

  test('parked and tapped by, its readings are lengths too', () => {
    const at = keyedBench(THOU);
    at.must({ kind: 'change setup', change: { leadUnit: 'in' } });
    at.must({ kind: 'begin sweep' });
    for (const keyed of ['1', '2', '3', '4', '5']) at.must(station(keyed));
    at.must({ kind: 'park', xMm: 127, keyed: '0.0050', lead: true });
    expect(at.state.tap?.parkedReadingMm).toBeCloseTo(0.127, 9);
  });
});

describe('a reading that is off the one before it as by another unit', () => {
  test('is asked about and taken only where that is said', () => {
    const at = keyedBench(INCHES);
    at.must({ kind: 'begin sweep' });
    at.must(station('0.1250', true));
    // The unit key of the indicator was touched: 0.1250 in is 3.175 mm.
    expect(at.refused(station('3.175', true))).toBe('keyed-doubted');
    expect(takenMm(at)).toHaveLength(1);
    at.must({ kind: 'take station', keyed: '3.175', lead: true, sure: true });
    expect(takenMm(at)[1]).toBeCloseTo(3.175 * 25.4, 9);
  });

  test('is not held against one that was struck out', () => {
    const at = keyedBench(INCHES);
    at.must({ kind: 'begin sweep' });
    at.must(station('1.5'));
    at.must({ kind: 'take back' });
    at.must(station('0.0015'));
    expect(takenMm(at)[0]).toBeCloseTo(0.0381, 9);
  });

  test('is not held against a sweep before, whose zero it need not share', () => {
    const at = keyedBench(INCHES);
    at.must({ kind: 'begin sweep' });
    at.must(station('1.5'));
    at.must({ kind: 'abandon sweep' });
    at.must({ kind: 'begin sweep' });
    at.must(station('0.0015'));
    expect(takenMm(at)).toHaveLength(1);
  });
});
