import type { LineShape } from '@taptrue/protocol';
import { ManualClock } from '@taptrue/simulators/clock.ts';
import { type Measure, SimulatedDevice } from '@taptrue/simulators/device.ts';
import { overMemory } from '@taptrue/simulators/over-memory.ts';
import { describe, expect, test } from 'vitest';

const SHAPE: LineShape = {
  name: 'under-test',
  title: 'under test',
  framing: { terminator: '\n', longestBytes: 20 },
  fields: [
    { kind: 'sign', map: { '+': 1, '-': -1 } },
    { kind: 'digits', atLeast: 2, atMost: 6, point: { kind: 'written', mark: '.' } },
  ],
  specials: [],
  trigger: 'streams',
  request: null,
  signals: { dtr: true, rts: true },
  port: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  samples: [],
};

function bench(shape: Partial<LineShape> = {}, measure?: Measure) {
  const clock = new ManualClock();
  const device = new SimulatedDevice({
    shape: { ...SHAPE, ...shape },
    measure: measure ?? ((atMs) => ({ value: Math.round(atMs) / 1000, status: 'ok' })),
    unit: 'mm',
    decimals: 3,
    channel: null,
    readingsPerSecond: 50,
    clock,
    seed: 1,
  });
  const pipe = overMemory(device);
  const heard = { text: '', gone: 0 };
  const attach = () =>
    pipe.attach(
      (chunk) => {
        heard.text += Buffer.from(chunk).toString('latin1');
      },
      () => {
        heard.gone += 1;
      },
    );
  return { clock, device, pipe, heard, attach };
}

const lines = (text: string) => text.split('\n').filter(Boolean);

test('it streams at its rate, each reading measured when it is sent', () => {
  const { clock, heard, attach } = bench();
  attach();
  clock.advance(100);
  expect(lines(heard.text)).toEqual(['+0.020', '+0.040', '+0.060', '+0.080', '+0.100']);
});

test('nobody is sent anything before attaching or after detaching', () => {
  const { clock, heard, attach, pipe } = bench();
  clock.advance(200);
  attach();
  clock.advance(40);
  pipe.detach();
  clock.advance(200);
  expect(lines(heard.text)).toEqual(['+0.220', '+0.240']);
});

test('asked, it answers each request once, also where a request comes in two pieces', () => {
  const { clock, heard, attach, pipe } = bench({
    trigger: 'asked',
    request: { text: 'R\r\n', everyMs: 100 },
  });
  attach();
  clock.advance(500);
  expect(heard.text).toBe('');
  pipe.send(Buffer.from('R\r\nR\r'));
  expect(lines(heard.text).length).toBe(1);
  pipe.send(Buffer.from('\nx'));
  expect(lines(heard.text).length).toBe(2);
});

test('a device with a key sends at its key only', () => {
  const { clock, heard, attach, device } = bench({ trigger: 'its own key' });
  attach();
  clock.advance(500);
  device.sendOne();
  expect(lines(heard.text)).toEqual(['+0.500']);
});

describe('a bad link', () => {
  test('stalled it is silent, still plugged, and comes back', () => {
    const { clock, heard, attach, device } = bench();
    attach();
    device.stall(100);
    clock.advance(90);
    expect(heard).toEqual({ text: '', gone: 0 });
    clock.advance(30);
    expect(lines(heard.text)).toEqual(['+0.100', '+0.120']);
  });

  test('unplugged it is gone once; opening it again fails until it is plugged in', () => {
    const { clock, heard, attach, device } = bench();
    attach();
    device.unplug();
    expect(heard.gone).toBe(1);
    attach();
    expect(heard.gone).toBe(2);
    device.replug();
    attach();
    clock.advance(20);
    expect(heard.gone).toBe(2);
    expect(lines(heard.text)).toEqual(['+0.020']);
  });

  test('a burst is many readings in one go', () => {
    const { heard, attach, device } = bench();
    attach();
    device.burst(5);
    expect(lines(heard.text).length).toBe(5);
  });

  test('opened in mid line, the first thing heard is not a whole line', () => {
    const { heard, attach, device } = bench();
    device.startsMidLine = true;
    attach();
    expect(heard.text.endsWith('\n')).toBe(true);
    expect(heard.text.startsWith('+')).toBe(false);
  });

  test('what drops is counted', () => {
    const { clock, heard, attach, device } = bench();
    device.misbehaviour = { drop: 1, garble: 0, cut: 0 };
    attach();
    clock.advance(100);
    expect(heard.text).toBe('');
    expect(device.counters).toMatchObject({ sent: 0, dropped: 5 });
  });
});

test('a shape without a word for over range shows the last number, with none it stays silent', () => {
  const last = bench({}, () => ({ value: 0.5, status: 'over range' }));
  last.attach();
  last.clock.advance(20);
  expect(lines(last.heard.text)).toEqual(['+0.500']);
  const none = bench({}, () => ({ value: null, status: 'over range' }));
  none.attach();
  none.clock.advance(20);
  expect(none.heard.text).toBe('');
  expect(none.device.counters.unsaid).toBe(1);
});
