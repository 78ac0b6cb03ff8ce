import { describe, expect, it } from 'vitest';
import { scriptedLink } from './scripted-link.ts';

describe('units', () => {
  it.each([
    ['set in, sent in', 'in', '+1.0 in', 1, 25.4],
    ['set in, none sent', 'in', '+1.0', 1, 25.4],
    ['set mm, none sent', 'mm', '+1.0', 1, 1],
    ['as sent, sent mm', 'as sent', '+1.0 mm', 1, 1],
    ['as sent, sent in', 'as sent', '+1.0 in', 1, 25.4],
  ] as const)('%s: understood', (_what, unit, text, value, valueMm) => {
    const { link, say, readings } = scriptedLink('signed-decimal', { unit });
    link.open();
    say(`\r\n${text}\r\n`);
    expect(readings).toMatchObject([{ value, valueMm }]);
  });

  it.each([
    ['set in, sent mm', 'in', '+1.0 mm', 'unit-changed'],
    ['set mm, sent in', 'mm', '+1.0 in', 'unit-changed'],
    ['as sent, none sent', 'as sent', '+1.0', 'unit-not-sent'],
  ] as const)('%s: refused at once, counted, never converted', (_what, unit, text, code) => {
    const { link, say, readings } = scriptedLink('signed-decimal', { unit });
    link.open();
    say(`\r\n${text}\r\n`);
    expect(readings).toEqual([]);
    expect(link.report()).toMatchObject({
      state: 'not understood',
      fault: { code },
      counters: { unitRefused: 1 },
    });
  });

  it('that flip in mid-stream are refused until they flip back, unplugged or not', () => {
    const { link, clock, say, unplug, readings } = scriptedLink('signed-decimal', {
      unit: 'as sent',
    });
    link.open();
    say('\r\n+1.0 in\r\n+25.4 mm\r\n');
    expect(link.report()).toMatchObject({
      state: 'not understood',
      fault: { code: 'unit-changed' },
    });
    unplug();
    clock.advance(250);
    say('\r\n+25.4 mm\r\n');
    expect(link.report().counters.unitRefused).toBe(2);
    say('+2.0 in\r\n');
    expect(link.report()).toMatchObject({ state: 'live', fault: null });
    expect(readings.map((reading) => reading.valueMm)).toEqual([25.4, 50.8]);
  });
});

describe('channels', () => {
  it('only the one that is set is heard, the others are counted', () => {
    const { link, say, readings } = scriptedLink('channel-tagged', { channel: '02A' });
    link.open();
    say('\r01A+000.1000\r02A+000.2000\r01A+000.1000\r');
    expect(readings.map((reading) => reading.value)).toEqual([0.2]);
    expect(link.report().counters).toMatchObject({ frames: 3, otherChannel: 2 });
  });

  it('with none set the first that gives a number stays, one that is absent does not', () => {
    const { link, say, readings } = scriptedLink('axis-readout', { unit: 'as sent' });
    link.open();
    say('\rZ= ******\rX= +1.0000 INCH\rY= +2.0000 INCH\rZ= ******\rX= +1.1000 INCH\r');
    expect(readings.map((reading) => [reading.channel, reading.value])).toEqual([
      ['Z', null],
      ['X', 1],
      ['X', 1.1],
    ]);
  });

  it('a line that sends only others is not understood, and the fault names both', () => {
    const { link, clock, say } = scriptedLink('channel-tagged', { channel: '02A' });
    link.open();
    for (let step = 0; step < 10; step += 1) {
      say('\r01A+000.1000\r');
      clock.advance(100);
    }
    const report = link.report();
    expect(report).toMatchObject({ state: 'not understood', fault: { code: 'channel-not-heard' } });
    expect(report.fault?.what).toMatch(/01A.*02A/);
  });

  it('a second one is given beside the first, and is never taken for it', () => {
    const { link, say, readings, second } = scriptedLink('axis-readout', {
      unit: 'as sent',
      secondChannel: 'Y',
    });
    link.open();
    say('\rY= +9.0000 INCH\rX= +1.0000 INCH\rY= +2.0000 INCH\rZ= +3.0000 INCH\rX= +1.1000 INCH\r');
    expect(readings.map(({ channel, value }) => [channel, value])).toEqual([
      ['X', 1],
      ['X', 1.1],
    ]);
    expect(second.map(({ channel, value, sequence }) => [channel, value, sequence])).toEqual([
      ['Y', 9, 0],
      ['Y', 2, 1],
    ]);
    expect(link.report().counters).toMatchObject({ frames: 5, otherChannel: 1 });
  });

  it('a second one alone does not make the first live', () => {
    const { link, clock, say } = scriptedLink('axis-readout', {
      unit: 'as sent',
      channel: 'X',
      secondChannel: 'Y',
    });
    link.open();
    for (let step = 0; step < 12; step += 1) {
      say('\rY= +9.0000 INCH\r');
      clock.advance(100);
    }
    expect(link.report().state).not.toBe('live');
    expect(link.report().fault?.code).toBe('not-understood');
  });

  it('several in turn at one press of a key are no fault', () => {
    const { link, clock, say } = scriptedLink('signed-decimal-by-key', { channel: null });
    link.open();
    clock.advance(500);
    say('+1.0\r\n+2.0\r\n');
    clock.advance(1500);
    expect(link.report()).toMatchObject({ state: 'waiting for its key', fault: null });
  });
});
