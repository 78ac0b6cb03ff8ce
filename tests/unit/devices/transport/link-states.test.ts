import { checkerOf, LinkReport, Reading } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import { fault, scriptedLink } from './scripted-link.ts';

const LINE = '+0.0012 in\r\n';

describe('a streaming line', () => {
  it('is opening until its first whole reading, then live', () => {
    const { link, say, readings } = scriptedLink('signed-decimal');
    expect(link.report().state).toBe('not set');
    link.open();
    expect(link.report().state).toBe('opening');
    say('012 in\r\n');
    expect(readings).toEqual([]);
    say(LINE);
    expect(link.report()).toMatchObject({ state: 'live', fault: null });
    expect(readings).toEqual([
      {
        sequence: 0,
        atMs: 1000,
        text: '+0.0012 in',
        channel: null,
        value: 0.0012,
        unit: 'in',
        valueMm: 0.0012 * 25.4,
        decimals: 4,
        status: 'ok',
      },
    ]);
    expect(link.report().counters).toMatchObject({ frames: 1, partialFramesDropped: 1, bytes: 20 });
  });

  it('is silent one second after its last reading, and live again with the next', () => {
    const { link, clock, say } = scriptedLink('signed-decimal');
    link.open();
    say(`\r\n${LINE}`);
    clock.advance(999);
    expect(link.report().state).toBe('live');
    clock.advance(1);
    expect(link.report()).toMatchObject({ state: 'silent', fault: { code: 'line-silent' } });
    say(LINE);
    expect(link.report()).toMatchObject({ state: 'live', fault: null });
  });

  it('is silent one second after opening where nothing ever came', () => {
    const { link, clock } = scriptedLink('signed-decimal');
    link.open();
    clock.advance(1000);
    expect(link.report().fault?.remedy).toMatch(/9600 8N1/);
  });

  it.each([
    ['text of another shape', 'hello\r\n', 'not-understood', { framesNotUnderstood: 10 }],
    [
      'bytes without any line end',
      '\xfe\x80\xfe'.repeat(20),
      'frame-too-long',
      { framesTooLong: 1 },
    ],
  ])('is not understood within a second of %s', (_what, text, code, counters) => {
    const { link, clock, say, readings } = scriptedLink('signed-decimal');
    link.open();
    say('\r\n');
    for (let step = 0; step < 10; step += 1) {
      say(text);
      clock.advance(100);
    }
    expect(link.report()).toMatchObject({ state: 'not understood', fault: { code }, counters });
    expect(readings).toEqual([]);
    say(`\r\n${LINE}`);
    expect(link.report().state).toBe('live');
  });

  it('falls from not understood to silent when the garbage stops', () => {
    const { link, clock, say } = scriptedLink('signed-decimal');
    link.open();
    clock.advance(900);
    say('hello\r\nhello\r\n');
    clock.advance(100);
    expect(link.report().state).toBe('not understood');
    clock.advance(2000);
    expect(link.report().state).toBe('silent');
  });

  it('never joins a line broken off by silence to what comes after it', () => {
    const { link, clock, say, readings } = scriptedLink('signed-decimal');
    link.open();
    say('\r\n+1');
    clock.advance(1500);
    say('2.0345 in\r\n');
    say(LINE);
    expect(readings.map((reading) => reading.value)).toEqual([0.0012]);
  });
});

describe('losing and finding again', () => {
  it('a lost line is tried after 0.25, 0.5, then every 1 s, however long it is away', () => {
    let there = true;
    const { link, clock, unplug, triedAtMs, say } = scriptedLink(
      'signed-decimal',
      {},
      (one, now) =>
        there
          ? one.events.opened(now.now())
          : one.events.closed(fault('port-not-found'), now.now()),
    );
    link.open();
    say(`\r\n${LINE}`);
    clock.advance(5000);
    there = false;
    const lostAtMs = clock.now();
    unplug();
    expect(link.report()).toMatchObject({ state: 'lost', fault: { code: 'port-gone' } });
    clock.advance(120_000);
    const gaps = triedAtMs
      .slice(1)
      .map((atMs, index) => atMs - (triedAtMs.slice(1)[index - 1] ?? lostAtMs));
    expect(gaps.slice(0, 5)).toEqual([250, 500, 1000, 1000, 1000]);
    expect(Math.max(...gaps)).toBe(1000);
    expect(gaps).toHaveLength(121);
    expect(link.report()).toMatchObject({ state: 'lost', fault: { code: 'port-gone' } });
    there = true;
    clock.advance(1000);
    say(`45\r\n${LINE}`);
    expect(link.report()).toMatchObject({
      state: 'live',
      counters: { reconnects: 1, partialFramesDropped: 1 },
    });
  });

  it('a port that may not be opened is refused with the reason, and tried again', () => {
    const { link, clock, tries } = scriptedLink('signed-decimal', {}, (one, now) =>
      one.events.closed(fault('port-no-permission'), now.now()),
    );
    link.open();
    expect(link.report()).toMatchObject({
      state: 'refused',
      fault: { code: 'port-no-permission' },
    });
    clock.advance(3000);
    expect(tries.length).toBeGreaterThanOrEqual(3);
    expect(link.report().state).toBe('refused');
  });

  it('a port that opens and falls shut at once is not tried in a tight loop', () => {
    const { link, clock, tries } = scriptedLink('signed-decimal', {}, (one, now) => {
      one.events.opened(now.now());
      one.events.closed(fault('port-gone'), now.now());
    });
    link.open();
    clock.advance(10_000);
    expect(tries.length).toBeLessThan(14);
  });

  it('an opening that never ends is given up and tried again', () => {
    const { link, clock, tries } = scriptedLink('signed-decimal', {}, () => undefined);
    link.open();
    clock.advance(5000);
    expect(link.report()).toMatchObject({ state: 'refused', fault: { code: 'opening-hangs' } });
    expect(tries[0]?.closedByLink).toBe(true);
    clock.advance(250);
    expect(tries).toHaveLength(2);
  });

  it('a maker that throws is a fault, not a crash', () => {
    const { link } = scriptedLink('signed-decimal', {}, () => {
      throw new Error('no such thing');
    });
    expect(() => link.open()).not.toThrow();
    expect(link.report()).toMatchObject({ state: 'refused', fault: { got: 'no such thing' } });
  });

  it('the tail at unplugging is no reading', () => {
    const { link, say, unplug, readings } = scriptedLink('signed-decimal');
    link.open();
    say(`\r\n${LINE}+0012.3`);
    unplug();
    expect(readings).toHaveLength(1);
    expect(link.report().counters.partialFramesDropped).toBe(1);
  });

  it('what an old transport still says after its end is not heard', () => {
    const { link, clock, tries, say, unplug, readings } = scriptedLink('signed-decimal');
    link.open();
    say('\r\n');
    unplug();
    clock.advance(250);
    tries[0]!.events.bytes(Buffer.from(LINE), clock.now());
    tries[0]!.events.closed(fault('port-gone'), clock.now());
    expect(readings).toEqual([]);
    expect(link.report().state).toBe('opening');
  });

  it('a closed link leaves no timer, no port and says nothing more', async () => {
    const { link, clock, tries, say, reports } = scriptedLink('bare-number-asked');
    link.open();
    clock.advance(600);
    await link.close();
    const told = reports.length;
    expect(link.report().state).toBe('not set');
    expect(tries[0]?.closedByLink).toBe(true);
    expect(clock.timersSet).toBe(0);
    say(' 1.000\r\n');
    clock.advance(5000);
    expect(reports).toHaveLength(told);
  });
});

describe('reports', () => {
  it('come at every change of state at once, and for counters four times a second', () => {
    const { link, clock, say, reports } = scriptedLink('signed-decimal');
    link.open();
    say('\r\n');
    for (let step = 0; step < 100; step += 1) {
      clock.advance(10);
      say(LINE);
    }
    expect(
      reports.map((report) => report.state).filter((state) => state === 'opening'),
    ).toHaveLength(1);
    expect(reports.length).toBeLessThanOrEqual(6);
    clock.advance(250);
    expect(reports.at(-1)?.counters.frames).toBe(100);
    expect(reports.at(-1)?.readingsPerSecond).toBeGreaterThan(70);
  });

  it('and readings have the form that everyone else is promised, in every state', () => {
    const { link, clock, say, unplug, reports, readings } = scriptedLink('signed-decimal');
    link.open();
    say(`\r\n${LINE}OVER\r\n+1.0 mm\r\n${'\x00'.repeat(200)}`);
    clock.advance(1500);
    unplug();
    clock.advance(3000);
    const report = checkerOf(LinkReport);
    const reading = checkerOf(Reading);
    expect(new Set(reports.map((one) => one.state)).size).toBeGreaterThanOrEqual(5);
    for (const one of reports) expect(report.check(one)).toMatchObject({ ok: true });
    expect(readings).toHaveLength(2);
    for (const one of readings) expect(reading.check(one)).toMatchObject({ ok: true });
  });
});
