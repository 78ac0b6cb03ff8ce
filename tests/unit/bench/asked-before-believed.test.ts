import { describe, expect, test } from 'vitest';
import { AtTheBench } from './at-the-bench.ts';

const STREAMS = { way: 'readout', entry: 'device', counts: 1, rises: 'toward' } as const;

function streamed(reading: (xMm: number) => number, decimals = (_xMm: number) => 3): AtTheBench {
  const at = new AtTheBench({ ...STREAMS, displayUnit: 'mm' });
  at.connect('indicator');
  at.connect('readout');
  at.must({ kind: 'set stage', stage: 'tight' });
  at.must({ kind: 'begin sweep' });
  for (let xMm = 0; xMm <= 127; xMm += 0.5) {
    at.nowMs += 25;
    at.reads('readout', xMm);
    at.reads('indicator', reading(xMm), { decimals: decimals(xMm) });
  }
  at.must({ kind: 'end sweep' });
  return at;
}
const codes = (at: AtTheBench) => at.result.cautions.map(({ code }) => code);

test('a needle that never moved is asked about, and one lift and return settles it', () => {
  const at = streamed(() => 0.004);
  expect(codes(at)).toContain('needle-never-moved');
  expect(at.job.standing).toBe('too close to call');
  at.rests('indicator', 0.3);
  expect(at.job.standing).toBe('too close to call');
  at.rests('indicator', 0.004);
  expect(codes(at)).not.toContain('needle-never-moved');
  expect(at.job.standing).toBe('true');
});

test('a bare number that goes over to other decimals near zero gives no tap', () => {
  const reading = (xMm: number) => Math.round(xMm * 0.05) / 1000;
  expect(streamed(reading).result.tap).not.toBeNull();
  const at = streamed(reading, (xMm) => (xMm < 60 ? 3 : 4));
  expect(codes(at)).toContain('unit-switched');
  expect([at.result.tap, at.result.tapToReadingMm]).toEqual([null, null]);
});

test.each(['7', '-5'])('%s keyed after 0.020 mm is asked about', (keyed) => {
  const at = new AtTheBench({ keyedAs: { kind: 'length', unit: 'mm' }, displayUnit: 'mm' });
  at.must({ kind: 'begin sweep' });
  at.keyStation('0.010');
  at.keyStation('0.020');
  expect(at.refused({ kind: 'take station', keyed })).toBe('keyed-doubted');
  at.must({ kind: 'take station', keyed, sure: true });
});

describe('a nudge', () => {
  const nudged = (setup = {}) => {
    const at = new AtTheBench(setup);
    at.must({ kind: 'begin nudge', nudge: 'y', keyed: '0.100' });
    at.must({ kind: 'finish nudge', nudge: 'y', keyed: '0.105', movedMm: 0.127 });
    return at;
  };

  test('that shows a 25.4th of the move is not taken, keyed either', () => {
    const at = new AtTheBench();
    at.must({ kind: 'begin nudge', nudge: 'y', keyed: '0.0100' });
    const finish = { kind: 'finish nudge', nudge: 'y', keyed: '0.0300', movedMm: 0.02 } as const;
    expect(at.refused(finish)).toBe('nudge-unit-confused');
    expect([at.state.setup.rises, at.state.nudges.y.state]).toEqual([null, 'waiting for the move']);
  });

  test('belongs to its axis', () => {
    const at = nudged();
    expect(at.state.nudges.y.state).toBe('done');
    at.must({ kind: 'change setup', change: { axis: 'y' } });
    expect([at.state.nudges.y.state, at.state.setup.rises]).toEqual(['not done', null]);
  });

  test('belongs to the unit of the dial', () => {
    const at = nudged();
    at.must({ kind: 'change setup', change: { keyedAs: { kind: 'length', unit: 'mm' } } });
    expect(at.state.nudges.y.state).toBe('not done');
  });
});

test('a tap the wrong way stops the headline, and the stop reading carries its unit', () => {
  const at = new AtTheBench({ rises: 'toward' });
  at.sweepKeyed(['0', '0.0010', '0.0020', '0.0030', '0.0040']);
  at.must({ kind: 'park', xMm: 127, keyed: '0.0040' });
  expect(at.state.tap!.sentence).toMatch(/stop at [+−-]0\.\d{4}/);
  at.must({ kind: 'tap reading', keyed: '0.0060' });
  expect(at.state.tap!.sentence).toMatch(/^Stop: the last tap went the wrong way/);
  at.must({ kind: 'tap reading', keyed: '0.0020' });
  expect(at.state.tap!.sentence).toMatch(/^Tap the/);
});
