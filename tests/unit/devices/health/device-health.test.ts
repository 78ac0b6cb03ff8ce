import type { LinkReport, Reading, ReadingStatus } from '@taptrue/protocol';
import { DeviceHealth } from '@taptrue/server/devices/health/device-health.ts';
import { describe, expect, it } from 'vitest';

const reading = (change: Partial<Reading>): Reading => {
  const made: Reading = {
    sequence: 0,
    atMs: 0,
    text: 'as it came',
    channel: null,
    value: 0.5,
    unit: 'in',
    valueMm: null,
    decimals: 4,
    status: 'ok',
    ...change,
  };
  const toMm = made.unit === 'in' ? 25.4 : 1;
  return { ...made, valueMm: made.value === null ? null : made.value * toMm };
};

/** What is told of these readings, and what is over again: `+code`, `-code`. */
function told(
  readings: readonly Partial<Reading>[],
  trigger: LinkReport['trigger'] = 'streams',
): string[] {
  const health = new DeviceHealth('indicator');
  return readings.flatMap((one) => {
    const { raised, over } = health.reading(reading(one), trigger);
    return [...raised.map(({ code }) => `+${code}`), ...over.map((code) => `-${code}`)];
  });
}

const every = (ms: number, count: number, change: Partial<Reading>, fromMs = 0) =>
  Array.from({ length: count }, (_, index) => ({ ...change, atMs: fromMs + index * ms }));

describe('what a device says of itself', () => {
  it.each<[ReadingStatus, string]>([
    ['hold', 'on-hold'],
    ['peak mode', 'min-max-mode'],
    ['over range', 'over-range'],
    ['error', 'device-error'],
  ])(
    '%s is told once it has stood for a second, once, and is over at the next good reading',
    (status, code) => {
      expect(told(every(100, 10, { status }))).toEqual([]);
      expect(
        told([...every(100, 40, { status, value: null }), ...every(100, 2, {}, 4000)]),
      ).toEqual([`+${code}`, `-${code}`]);
    },
  );

  it('a stylus that lifts off for half a second is no fault, however often', () => {
    const lift = (fromMs: number) => [
      ...every(100, 6, { status: 'over range', value: null }, fromMs),
      ...every(100, 4, {}, fromMs + 600),
    ];
    expect(told([...lift(0), ...lift(1000), ...lift(2000)])).toEqual([]);
  });

  it('from a device with a key of its own, once said is meant', () => {
    expect(told([{ status: 'hold' }], 'its own key')).toEqual(['+on-hold']);
  });

  it('a low battery is told at once, and is over after ten readings without it', () => {
    expect(
      told([
        { status: 'low battery' },
        ...every(100, 9, {}),
        { status: 'low battery' },
        ...every(100, 10, {}),
      ]),
    ).toEqual(['+low-battery', '-low-battery']);
  });

  it('names what was got and what to do', () => {
    const health = new DeviceHealth('readout');
    const [fault] = health.reading(
      reading({ status: 'low battery', text: '+0.1 LB' }),
      'streams',
    ).raised;
    expect(fault).toMatchObject({ got: '+0.1 LB', what: expect.stringContaining('the readout') });
    expect(fault?.remedy).toMatch(/battery/);
  });
});

describe('a unit switched on a device whose line carries none', () => {
  const inThenMm = [
    { value: 0.0521, decimals: 4, atMs: 0 },
    { value: 1.323, decimals: 3, atMs: 100 },
  ];

  it.each<[string, Partial<Reading>[], string[]]>([
    ['inches to millimetres', inThenMm, ['+unit-switched']],
    [
      'and back',
      [...inThenMm, { value: 0.0521, decimals: 4, atMs: 200 }],
      ['+unit-switched', '-unit-switched'],
    ],
    [
      'millimetres to inches',
      [
        { value: 1.323, decimals: 3, unit: 'mm', atMs: 0 },
        { value: 0.0521, decimals: 4, unit: 'mm', atMs: 100 },
      ],
      ['+unit-switched'],
    ],
    [
      'with a needle that moved by 4 % in between',
      [inThenMm[0]!, { value: 1.376, decimals: 3, atMs: 100 }],
      ['+unit-switched'],
    ],
    ['not where the decimals stay', [inThenMm[0]!, { value: 1.3233, decimals: 4, atMs: 100 }], []],
    ['not where the sign changes', [inThenMm[0]!, { value: -1.323, decimals: 3, atMs: 100 }], []],
    [
      'not from three digits of zero',
      [
        { value: 0.0003, decimals: 4 },
        { value: 0.008, decimals: 3, atMs: 100 },
      ],
      [],
    ],
    [
      'not over a gap in which anything may have moved',
      [inThenMm[0]!, { ...inThenMm[1]!, atMs: 5000 }],
      [],
    ],
    [
      'not where it shrinks while read as inches',
      [
        { value: 1.323, decimals: 3 },
        { value: 0.0521, decimals: 4, atMs: 100 },
      ],
      [],
    ],
    [
      'not a needle that runs',
      every(100, 30, {}).map((one, index) => ({ ...one, value: index * 0.04 })),
      [],
    ],
  ])('%s', (_what, readings, expected) => {
    expect(told(readings)).toEqual(expected);
  });
});

describe('a device that switches itself off', () => {
  /** Moved, then at rest for so many seconds, then silent. */
  function rests(...seconds: number[]): string[] {
    const health = new DeviceHealth('indicator');
    let atMs = 0;
    let value = 0;
    return seconds.flatMap((rest) => {
      value += 0.1;
      const codes: string[] = [];
      for (let passedMs = 0; passedMs <= rest * 1000; passedMs += 1000) {
        const trembled = value + (passedMs % 2000 === 0 ? 0.0001 : 0);
        health.reading(reading({ value: trembled, atMs: atMs + passedMs }), 'streams');
      }
      atMs += rest * 1000 + 60_000;
      for (const { code } of health.report({ state: 'silent' }, 0).raised) codes.push(code);
      health.report({ state: 'silent' }, 0);
      return codes;
    });
  }

  it.each<[string, number[], string[]]>([
    ['after the same five minutes, twice', [300, 302], ['falls-asleep']],
    ['with an accident in between', [300, 61, 298], ['falls-asleep']],
    ['not after one silence', [300], []],
    ['not after silences of any length: a cable', [40, 300, 120, 700], []],
    ['not soon after a movement: a cable', [5, 5, 5], []],
  ])('%s', (_what, seconds, expected) => {
    expect(rests(...seconds)).toEqual(expected);
  });

  it('is told with the time it keeps, and what to do', () => {
    const health = new DeviceHealth('indicator');
    for (const start of [0, 1_000_000]) {
      health.reading(reading({ value: start === 0 ? 0.1 : 0.2, atMs: start }), 'streams');
      health.reading(reading({ value: start === 0 ? 0.1 : 0.2, atMs: start + 300_000 }), 'streams');
      const [fault] = health.report({ state: 'lost' }, 0).raised;
      if (start > 0) {
        expect(fault?.what).toContain('about 5 min');
        expect(fault?.got).toContain('300 s, 300 s');
        expect(fault?.remedy).toMatch(/power-off/);
      } else {
        expect(fault).toBeUndefined();
      }
    }
  });
});

describe('a device that comes and goes', () => {
  /** Lost and live again at these seconds; what is told at each. */
  function lostAt(...seconds: number[]): string[] {
    const health = new DeviceHealth('indicator');
    return seconds.flatMap((second) => {
      const lost = health.report({ state: 'lost' }, second * 1000);
      const live = health.report({ state: 'live' }, second * 1000 + 100);
      return [...lost.raised, ...live.raised].map(({ code }) => code);
    });
  }

  it.each<[string, number[], string[]]>([
    ['five times within a minute', [0, 10, 20, 30, 40], ['comes-and-goes']],
    [
      'a hundred times a minute, told once',
      Array.from({ length: 100 }, (_, n) => n * 0.6),
      ['comes-and-goes'],
    ],
    ['not four times', [0, 10, 20, 30], []],
    ['not five times in ten minutes: plugs being tried', [0, 120, 240, 360, 480], []],
  ])('%s', (_what, seconds, codes) => {
    expect(lostAt(...seconds)).toEqual(codes);
  });

  it('that stays lost is lost once', () => {
    const health = new DeviceHealth('readout');
    for (let second = 0; second < 60; second += 1) {
      expect(health.report({ state: 'lost' }, second * 1000).raised).toEqual([]);
    }
  });

  it('is over once it has held for a minute', () => {
    const health = new DeviceHealth('readout');
    for (let second = 0; second < 5; second += 1) {
      health.report({ state: 'lost' }, second * 1000);
      health.report({ state: 'live' }, second * 1000 + 500);
    }
    expect(health.report({ state: 'live' }, 63_000).over).toEqual([]);
    expect(health.report({ state: 'live' }, 64_000).over).toEqual(['comes-and-goes']);
  });
});
