import type { DemoAct } from '@taptrue/protocol';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { ManualClock } from '@taptrue/simulators/clock.ts';
import { DemoBench } from '@taptrue/simulators/demo-bench.ts';
import { describe, expect, test } from 'vitest';

function bench(seed = 1, outOfTrueMm: number | null = null) {
  const clock = new ManualClock();
  const demo = new DemoBench({
    seed,
    outOfTrueMm,
    clock,
    indicatorShape: shapeNamed('signed-decimal')!,
    readoutShape: shapeNamed('axis-readout')!,
  });
  const heard = { indicator: [] as string[], readout: [] as string[] };
  for (const name of ['indicator', 'readout'] as const) {
    demo.device(name).attach(
      (chunk) => heard[name].push(Buffer.from(chunk).toString('latin1').trim()),
      () => undefined,
    );
  }
  const number = (line: string | undefined) => Number(/[+-]?\d*\.\d+/.exec(line ?? '')?.[0]);
  return {
    demo,
    clock,
    heard,
    indicatorIn: () => number(heard.indicator.at(-1)),
    readoutIn: () => number(heard.readout.at(-1)),
    meanIn(lines = 50) {
      heard.indicator.length = 0;
      clock.advance(lines * 20);
      const all = heard.indicator.map(number);
      return all.reduce((sum, value) => sum + value, 0) / all.length;
    },
  };
}

test('the indicator speaks 50 times a second, the readout 20, in inches', () => {
  const { clock, heard } = bench();
  clock.advance(1000);
  expect(heard.indicator.length).toBe(50);
  expect(heard.readout.length).toBe(20);
  expect(heard.indicator[0]).toMatch(/^[+-]0\.\d{5},in$|^[+-]0\.\d{5}.*$/);
  expect(heard.readout[0]).toBe('X=+0.0000 INCH');
});

test('the same seed and the same acts give the same bytes; another seed others', () => {
  const run = (seed: number) => {
    const { demo, clock, heard } = bench(seed);
    demo.act({ act: 'traverse', toMm: 127, mmPerSecond: 50 });
    clock.advance(1500);
    demo.act({ act: 'strike', xMm: 147, way: 'away', blow: 'firm' });
    demo.clamp('tight');
    clock.advance(1500);
    return heard;
  };
  expect(run(4)).toEqual(run(4));
  expect(run(4).indicator).not.toEqual(run(5).indicator);
});

test('traversing 127 mm at 10 mm/s takes 12.7 s, and screens are told while it lasts and when it ends', () => {
  const { demo, clock, readoutIn } = bench();
  let told = 0;
  demo.onChange(() => {
    told += 1;
  });
  demo.act({ act: 'traverse', toMm: 127, mmPerSecond: 10 });
  clock.advance(12_600);
  expect(demo.section()).toMatchObject({ traversing: true });
  expect(readoutIn()).toBeCloseTo(126 / 25.4, 3);
  clock.advance(200);
  expect(demo.section()).toMatchObject({ traversing: false, tableMm: 127 });
  expect(told).toBeGreaterThan(200);
  const after = told;
  clock.advance(1000);
  expect(told).toBe(after);
});

test('stopping the table leaves it where it is', () => {
  const { demo, clock } = bench();
  demo.act({ act: 'traverse', toMm: 127, mmPerSecond: 10 });
  clock.advance(5000);
  demo.act({ act: 'stop table' });
  clock.advance(5000);
  expect(demo.section()).toMatchObject({ traversing: false, tableMm: 50 });
});

test('a right end that lies 0.015 in farther away reads 0.015 in lower there, on the operator’s side', () => {
  const { demo, meanIn } = bench(1, 0.015 * 25.4);
  const leftIn = meanIn();
  demo.act({ act: 'table to', xMm: 127 });
  // A tenth of a thou: lag and noise of the simulated indicator.
  expect(meanIn() - leftIn).toBeCloseTo(-0.015, 3);
});

test('without asking it is out of true by 0.010 to 0.020 in, either way', () => {
  const ends = Array.from({ length: 12 }, (_, seed) => {
    const { demo, meanIn } = bench(seed);
    const leftIn = meanIn(10);
    demo.act({ act: 'table to', xMm: 127 });
    return meanIn(10) - leftIn;
  });
  for (const end of ends) {
    expect(Math.abs(end)).toBeGreaterThan(0.0097);
    expect(Math.abs(end)).toBeLessThan(0.0203);
  }
  expect(new Set(ends.map(Math.sign)).size).toBe(2);
});

test('jogging the saddle 0.1 mm toward the column makes the reading fall by as much', () => {
  const { demo, meanIn } = bench();
  const beforeIn = meanIn();
  demo.act({ act: 'saddle', towardColumnMm: 0.1 });
  expect(meanIn() - beforeIn).toBeCloseTo(-0.1 / 25.4, 3);
});

test('off the end of the bar the indicator says so, and comes back when it touches again', () => {
  const { demo, clock, heard } = bench();
  demo.act({ act: 'table to', xMm: 135 });
  clock.advance(20);
  expect(heard.indicator.at(-1)).toBe('OVER');
  expect(demo.section().stylusTouches).toBe(false);
  demo.act({ act: 'table to', xMm: 120 });
  clock.advance(20);
  expect(heard.indicator.at(-1)).toMatch(/\d/);
});

test('pushed past its range it stands at its stop', () => {
  const { demo, clock, indicatorIn } = bench();
  demo.act({ act: 'saddle', towardColumnMm: -1 });
  demo.act({ act: 'saddle', towardColumnMm: -1 });
  clock.advance(20);
  expect(indicatorIn()).toBeCloseTo(0.03, 6);
});

test('zeroing shows zero where it stands', () => {
  const { demo, meanIn } = bench();
  demo.act({ act: 'table to', xMm: 60 });
  demo.act({ act: 'zero indicator' });
  expect(Math.abs(meanIn())).toBeLessThan(0.0001);
});

test('the clamps follow the stage, and a new vise is nipped again and another one', () => {
  const { demo, meanIn } = bench();
  const firstIn = meanIn();
  demo.clamp('tight');
  expect(demo.section().clamped).toBe('tight');
  demo.act({ act: 'new vise' });
  expect(demo.section()).toMatchObject({ clamped: 'nipped', tableMm: 0 });
  expect(meanIn()).not.toBeCloseTo(firstIn, 5);
});

describe('what cannot be done is refused with what to do', () => {
  test.each([
    { act: { act: 'table to', xMm: 900 }, code: 'demo-beyond-table' },
    { act: { act: 'traverse', toMm: -300, mmPerSecond: 5 }, code: 'demo-beyond-table' },
    { act: { act: 'strike', xMm: 400, way: 'away', blow: 'light' }, code: 'demo-mallet-misses' },
  ] satisfies { act: DemoAct; code: string }[])('$act', ({ act, code }) => {
    const { demo } = bench();
    const answer = demo.act(act);
    expect(answer).toMatchObject({ ok: false, fault: { code } });
  });

  test('zeroing on nothing', () => {
    const { demo } = bench();
    demo.act({ act: 'table to', xMm: 140 });
    expect(demo.act({ act: 'zero indicator' })).toMatchObject({
      ok: false,
      fault: { code: 'demo-stylus-off' },
    });
  });
});
