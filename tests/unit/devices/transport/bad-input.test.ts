import { describe, expect, it } from 'vitest';
import { scriptedLink } from './scripted-link.ts';

/** Frames of every length up to 40 and of every printable character, none of them a reading. */
function* differentShapes(count: number): Generator<Uint8Array> {
  const perChunk = 1000;
  for (let from = 0; from < count; from += perChunk) {
    let text = '';
    for (let frame = from; frame < Math.min(from + perChunk, count); frame += 1) {
      const letter = String.fromCharCode(0x21 + (frame % 94));
      text += `${letter.repeat(frame % 40)}<${frame.toString(36)}>${letter}\r\n`;
    }
    yield new Uint8Array(Buffer.from(text, 'latin1'));
  }
}

describe('a device that sends a million different shapes', () => {
  it('costs counters and the last six lines, is not understood, and says what to do', () => {
    const { link, clock, tries, readings } = scriptedLink('signed-decimal');
    link.open();
    for (const chunk of differentShapes(1_000_000)) {
      clock.advance(5);
      tries[0]!.events.bytes(chunk, clock.now());
    }
    clock.advance(2000);
    const report = link.report();
    expect(readings).toEqual([]);
    // The first line has no beginning that is known; each other one was looked at.
    expect(report.counters.framesNotUnderstood + report.counters.framesTooLong).toBe(999_999);
    expect(report.line?.rows).toHaveLength(6);
    expect(JSON.stringify(report).length).toBeLessThan(8000);
    expect(report.fault?.remedy).toMatch(/speed|shape/);
  });

  it('and then lines of its own is live with the first whole one', () => {
    const { link, clock, tries, readings } = scriptedLink('signed-decimal');
    link.open();
    for (const chunk of differentShapes(10_000)) tries[0]!.events.bytes(chunk, clock.now());
    tries[0]!.events.bytes(new Uint8Array(Buffer.from('+0.0125 in\r\n')), clock.now());
    expect(readings.map(({ value }) => value)).toEqual([0.0125]);
    expect(link.report()).toMatchObject({ state: 'live', fault: null, counters: { resyncs: 0 } });
  });
});

describe('a device that connects and drops a hundred times a minute', () => {
  it('is tried at most once a second, for as long as it does so, with one timer', () => {
    const { link, clock, tries, triedAtMs } = scriptedLink(
      'signed-decimal',
      {},
      (transport, at) => {
        transport.events.opened(at.now());
        at.setTimeout(() => transport.events.closed(null, at.now()), 100);
      },
    );
    link.open();
    clock.advance(60_000);
    const gapsMs = triedAtMs.slice(4).map((atMs, index) => atMs - triedAtMs[index + 3]!);
    expect(Math.min(...gapsMs)).toBeGreaterThanOrEqual(1000);
    expect(tries.length).toBeLessThanOrEqual(60);
    expect(tries.length).toBeGreaterThan(50);
    const report = link.report();
    expect(report.counters.reconnects).toBe(tries.length - 1);
    expect(report.fault?.remedy.length).toBeGreaterThan(20);
  });
});
