import { describe, expect, it } from 'vitest';
import { scriptedLink } from './scripted-link.ts';

describe('a device that is asked', () => {
  it('is asked once the line was seen idle, then every 100 ms, one request at a time', () => {
    const { link, clock, tries, say, readings } = scriptedLink('bare-number-asked');
    link.open();
    clock.advance(249);
    expect(tries[0]?.written).toBe('');
    clock.advance(1);
    expect(tries[0]?.written).toBe('R\r\n');
    clock.advance(300);
    expect(tries[0]?.written).toBe('R\r\n');
    say(' 12.345\r\n');
    expect(readings).toHaveLength(1);
    clock.advance(1);
    expect(tries[0]?.written).toBe('R\r\nR\r\n');
    clock.advance(40);
    say(' 12.346\r\n');
    clock.advance(58);
    expect(tries[0]?.written).toBe('R\r\nR\r\n');
    clock.advance(1);
    expect(tries[0]?.written).toBe('R\r\nR\r\nR\r\n');
  });

  it('is asked again after half a second without an answer, and is silent after one', () => {
    const { link, clock, tries } = scriptedLink('bare-number-asked');
    link.open();
    clock.advance(250 + 500);
    expect(tries[0]?.written).toBe('R\r\nR\r\n');
    clock.advance(250);
    expect(link.report()).toMatchObject({ state: 'silent', fault: { code: 'line-silent' } });
  });

  it('never joins an answer that was broken off to the next one', () => {
    const { link, clock, say, readings } = scriptedLink('bare-number-asked');
    link.open();
    clock.advance(250);
    say('1');
    clock.advance(500);
    say('2.345\r\n');
    say(' 2.345\r\n');
    expect(readings.map((reading) => reading.value)).toEqual([2.345]);
  });

  it('loses its first answer only where bytes came before the line was seen idle', () => {
    const { link, clock, say, readings } = scriptedLink('bare-number-asked');
    link.open();
    clock.advance(100);
    say('45');
    clock.advance(150);
    say('.1\r\n');
    expect(readings).toEqual([]);
    say(' 45.1\r\n');
    expect(readings.map((reading) => reading.value)).toEqual([45.1]);
  });

  it('can be asked at once; what is outstanding serves', () => {
    const { link, clock, tries, say } = scriptedLink('bare-number-asked');
    expect(link.askNow()).toBe(false);
    link.open();
    clock.advance(250);
    expect(link.askNow()).toBe(true);
    expect(tries[0]?.written).toBe('R\r\n');
    say(' 1.000\r\n');
    link.askNow();
    expect(tries[0]?.written).toBe('R\r\nR\r\n');
  });

  it('that streams cannot be asked', () => {
    const { link } = scriptedLink('signed-decimal');
    link.open();
    expect(link.askNow()).toBe(false);
  });
});

describe('a device with a key of its own', () => {
  it('waits for its key without a fault, is live when it sends, and waits again', () => {
    const { link, clock, say, readings } = scriptedLink('signed-decimal-by-key');
    link.open();
    expect(link.report()).toMatchObject({ state: 'waiting for its key', fault: null });
    clock.advance(60_000);
    expect(link.report()).toMatchObject({ state: 'waiting for its key', fault: null });
    say('+0.0021 in\r\n');
    expect(readings.map((reading) => reading.value)).toEqual([0.0021]);
    expect(link.report().state).toBe('live');
    clock.advance(1000);
    expect(link.report().state).toBe('waiting for its key');
  });

  it.each([
    ['before the line was seen idle its first frame may be the end of one', 249, []],
    ['once the line was seen idle its first frame is whole', 250, [345]],
  ])('%s', (_what, afterMs, values) => {
    const { link, clock, say, readings } = scriptedLink('signed-decimal-by-key');
    link.open();
    clock.advance(afterMs);
    say('345.0 in\r\n');
    expect(readings.map((reading) => reading.value)).toEqual(values);
  });

  it('says so within a second where its key sends what is not understood', () => {
    const { link, clock, say } = scriptedLink('signed-decimal-by-key');
    link.open();
    clock.advance(10_000);
    say('\x9e\x8a\xfe');
    clock.advance(1000);
    expect(link.report()).toMatchObject({
      state: 'not understood',
      fault: { code: 'not-understood', got: '\\x9e\\x8a\\xfe' },
    });
    clock.advance(60_000);
    expect(link.report().state).toBe('not understood');
  });
});
