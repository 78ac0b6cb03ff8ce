import { startDemo } from '@taptrue/server/devices/demo/demo-door.ts';
import { makeFrameCutter } from '@taptrue/server/devices/formats/cut-frames.ts';
import { decodeFrame } from '@taptrue/server/devices/formats/decode-frame.ts';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { ManualClock } from '@taptrue/simulators/clock.ts';
import { expect, test } from 'vitest';

test('what comes through the door is bytes of the shape its configuration names, in its unit', () => {
  const clock = new ManualClock();
  const demo = startDemo({ seed: 3, clock });
  for (const device of ['indicator', 'readout'] as const) {
    const config = demo.configFor(device);
    expect(config.source).toEqual({ kind: 'simulated', device });
    const shape = shapeNamed(config.shape)!;
    const cutter = makeFrameCutter(shape.framing, 'between frames');
    const said: unknown[] = [];
    demo.pipes(device).attach(
      (chunk) => {
        for (const cut of cutter.feed(chunk)) {
          said.push(cut.kind === 'frame' ? decodeFrame(cut.body, shape) : cut);
        }
      },
      () => undefined,
    );
    clock.advance(1000);
    expect(said.length).toBe(device === 'indicator' ? 50 : 20);
    for (const one of said)
      expect(one).toMatchObject({ kind: 'reading', status: 'ok', unit: 'in' });
  }
  demo.close();
});

test('a pipe left and taken again goes on; closing the door silences both', () => {
  const clock = new ManualClock();
  const demo = startDemo({ seed: 3, clock });
  const pipe = demo.pipes('indicator');
  let chunks = 0;
  const attach = () =>
    pipe.attach(
      () => (chunks += 1),
      () => undefined,
    );
  attach();
  clock.advance(100);
  pipe.detach();
  clock.advance(100);
  attach();
  clock.advance(100);
  expect(chunks).toBe(10);
  demo.close();
  clock.advance(1000);
  expect(chunks).toBe(10);
});

test('acts and clamps show in the section, and a screen is told', () => {
  const demo = startDemo({ seed: 3, clock: new ManualClock() });
  let told = 0;
  demo.onChange(() => {
    told += 1;
  });
  demo.clamp('snug');
  expect(demo.act({ act: 'table to', xMm: 63.5 })).toMatchObject({ ok: true });
  expect(demo.section()).toMatchObject({ clamped: 'snug', tableMm: 63.5 });
  expect(told).toBe(2);
});

test('a shape that is not known is refused by name', () => {
  expect(() => startDemo({ seed: 1, indicatorShape: 'no-such' })).toThrow('no-such');
});
