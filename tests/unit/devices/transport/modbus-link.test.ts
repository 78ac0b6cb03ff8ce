import { checkerOf, LinkReport, Reading } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import { fault } from './scripted-link.ts';
import { rtu, scriptedModbus } from './scripted-modbus.ts';

const REQUEST = '010300000001840A';

describe('a Modbus device on a serial line', () => {
  it('is asked at once, then ten times a second, one request at a time', () => {
    const { link, clock, asked, say, readings } = scriptedModbus('rtu');
    link.open();
    expect(asked()).toBe(REQUEST);
    clock.advance(300);
    expect(asked()).toBe('');
    say(rtu('01 03 02 30 39'));
    clock.advance(0);
    expect(asked()).toBe(REQUEST);
    clock.advance(40);
    say(rtu('01 03 02 CF C7'));
    clock.advance(59);
    expect(asked()).toBe('');
    clock.advance(1);
    expect(asked()).toBe(REQUEST);
    expect(readings).toEqual([
      {
        sequence: 0,
        atMs: 1300,
        text: 'register 0: 3039 = 12345',
        channel: '0',
        value: 12.345,
        unit: 'mm',
        valueMm: 12.345,
        decimals: 3,
        status: 'ok',
      },
      expect.objectContaining({ sequence: 1, value: -12.345 }),
    ]);
    expect(link.report()).toMatchObject({ state: 'live', trigger: 'asked', simulated: false });
  });

  it('reads inches as millimetres inside', () => {
    const { link, say, readings } = scriptedModbus('rtu', { perCount: 0.0001 }, { unit: 'in' });
    link.open();
    say(rtu('01 03 02 00 0A'));
    expect(readings).toMatchObject([{ value: 0.001, unit: 'in', valueMm: 0.0254, decimals: 4 }]);
  });

  it('whose unit nobody set gives no number', () => {
    const { link, say, readings } = scriptedModbus('rtu', {}, { unit: 'as sent' });
    link.open();
    say(rtu('01 03 02 00 0A'));
    expect(readings).toEqual([]);
    expect(link.report()).toMatchObject({
      state: 'not understood',
      fault: { code: 'unit-not-sent' },
    });
  });

  it.each([
    ['one byte at a time', [...rtu('01 03 02 30 39')].map((byte) => Buffer.from([byte]))],
    [
      'after the echo of the request',
      [Buffer.concat([Buffer.from(REQUEST, 'hex'), rtu('01 03 02 30 39')])],
    ],
    ['after a neighbour has talked', [rtu('02 03 02 11 11'), rtu('01 03 02 30 39')]],
    ['after a broken answer', [Buffer.from('0103023038FFFF', 'hex'), rtu('01 03 02 30 39')]],
    ['after 300 bytes of noise', [Buffer.alloc(300, 1), rtu('01 03 02 30 39')]],
  ])('is understood %s', (_how, chunks) => {
    const { link, say, readings } = scriptedModbus('rtu');
    link.open();
    for (const chunk of chunks) say(chunk);
    expect(readings.map(({ value }) => value)).toEqual([12.345]);
  });

  it('gives nothing of an answer whose checksum is wrong, and says so', () => {
    const { link, clock, say, readings } = scriptedModbus('rtu');
    link.open();
    for (let step = 0; step < 3; step += 1) {
      say(Buffer.from('0103023039FFFF', 'hex'));
      clock.advance(500);
    }
    expect(readings).toEqual([]);
    const report = link.report();
    expect(report).toMatchObject({
      state: 'not understood',
      fault: { code: 'modbus-garbled', got: '01 03 02 30 39 FF FF' },
    });
    expect(report.fault?.what).toMatch(/checksum/);
    expect(report.fault?.remedy).toMatch(/parity/);
    expect(report.counters).toMatchObject({ unanswered: 3, framesNotUnderstood: 3 });
  });

  it('that is not there, or has another unit number, is silent after a second', () => {
    const { link, clock, asked } = scriptedModbus('rtu', { unitId: 7 });
    link.open();
    clock.advance(1000);
    const report = link.report();
    expect(report).toMatchObject({ state: 'silent', fault: { code: 'modbus-no-answer' } });
    expect(report.fault?.what).toMatch(/unit 7/);
    expect(report.fault?.remedy).toMatch(/unit number, the speed/);
    clock.advance(9000);
    expect(link.report().counters.unanswered).toBe(20);
    // Never more than one outstanding: 20 gone by and the one that waits.
    expect(asked()).toHaveLength(21 * REQUEST.length);
  });

  it('that answers late is not one answer behind for ever', () => {
    const { link, clock, say, readings } = scriptedModbus('rtu', { answerWithinMs: 100 });
    link.open();
    clock.advance(110);
    say(rtu('01 03 02 00 01'));
    clock.advance(100);
    // The answer to the second request, before the third is asked: it belongs to nothing that waits.
    say(rtu('01 03 02 00 02'));
    clock.advance(100);
    say(rtu('01 03 02 00 03'));
    expect(readings.at(-1)?.value).toBe(0.003);
  });

  it.each([
    [1, /function/, /function 4/],
    [2, /no such register/, /40001/],
    [3, /number of registers/, /16 bits/],
    [4, /failed/, /off and on/],
    [6, /busy/, /less often/],
    [11, /gateway/, /unit number/],
    [99, /does not name.*99/, /manual/],
  ])('that refuses with exception %i is named in words', (reason, what, remedy) => {
    const { link, clock, say } = scriptedModbus('rtu');
    link.open();
    for (let step = 0; step < 11; step += 1) {
      say(rtu(`01 83 ${reason.toString(16).padStart(2, '0')}`));
      clock.advance(100);
    }
    const report = link.report();
    expect(report).toMatchObject({
      state: 'not understood',
      lastText: `exception ${reason}`,
      fault: { code: 'modbus-refused' },
      counters: { saidNo: 11, frames: 0 },
    });
    expect(report.fault?.what).toMatch(what);
    expect(report.fault?.remedy).toMatch(remedy);
    say(rtu('01 03 02 00 01'));
    expect(link.report().state).toBe('live');
  });

  it('gives a float that is not a number as absent, never as zero', () => {
    const { link, say, readings } = scriptedModbus('rtu', { form: 'float32', perCount: 1 });
    link.open();
    say(rtu('01 03 04 7F C0 00 00'));
    expect(readings).toMatchObject([{ value: null, valueMm: null, status: 'error' }]);
  });

  it('with two axes side by side is asked once for both', () => {
    const { link, asked, say, readings, second } = scriptedModbus(
      'rtu',
      {},
      { secondChannel: '1' },
    );
    link.open();
    expect(asked()).toBe('010300000002C40B');
    say(rtu('01 03 04 00 0A 00 14'));
    expect(readings).toMatchObject([{ channel: '0', value: 0.01 }]);
    expect(second).toMatchObject([{ channel: '1', value: 0.02, atMs: readings[0]!.atMs }]);
  });

  it('with two axes apart is asked for one after the other', () => {
    const { link, clock, asked, say, readings, second } = scriptedModbus(
      'rtu',
      {},
      { secondChannel: '60' },
    );
    link.open();
    expect(asked()).toBe(REQUEST);
    say(rtu('01 03 02 00 0A'));
    expect(asked()).toMatch(/^0103003C0001/);
    say(rtu('01 03 02 00 14'));
    expect(asked()).toBe('');
    clock.advance(100);
    expect(asked()).toBe(REQUEST);
    expect([readings, second].map((of) => of.map(({ value }) => value))).toEqual([[0.01], [0.02]]);
  });
});

describe('a Modbus device on the network', () => {
  it('is asked with a header that counts requests, and answers by it', () => {
    const { link, clock, asked, say, readings } = scriptedModbus('tcp');
    link.open();
    expect(asked()).toBe('000100000006010300000001');
    say(Buffer.from('00010000000501030230', 'hex'));
    expect(readings).toEqual([]);
    say(Buffer.from('39', 'hex'));
    expect(readings.map(({ value }) => value)).toEqual([12.345]);
    clock.advance(100);
    expect(asked()).toBe('000200000006010300000001');
  });

  it('whose late answer comes with the next one: only the next one counts', () => {
    const { link, clock, say, readings } = scriptedModbus('tcp');
    link.open();
    clock.advance(500);
    say(Buffer.from('0001000000050103020001' + '0002000000050103020002', 'hex'));
    expect(readings.map(({ value }) => value)).toEqual([0.002]);
  });

  it.each([
    ['a web server', 'HTTP/1.1 400 Bad Request\r\n\r\n'],
    ['a device server that sends lines', '+0.0012 in\r\n+0.0012 in\r\n'],
  ])('that is %s is told apart from one that is silent', (_what, text) => {
    const { link, clock, say, readings } = scriptedModbus('tcp');
    link.open();
    for (let step = 0; step < 4; step += 1) {
      say(Buffer.from(text));
      clock.advance(400);
    }
    expect(readings).toEqual([]);
    expect(link.report()).toMatchObject({
      state: 'not understood',
      fault: { code: 'modbus-garbled' },
    });
    expect(link.report().fault?.remedy).toMatch(/502/);
    clock.advance(400);
    say(Buffer.from('0005000000050103020002', 'hex'));
    expect(link.report().state).toBe('live');
  });

  it('that answers with fewer registers than were asked for is not understood', () => {
    const { link, clock, say } = scriptedModbus('tcp', { form: 'int32' });
    link.open();
    for (let turn = 1; turn < 12; turn += 1) {
      say(Buffer.from(`00${turn.toString(16).padStart(2, '0')}000000050103020001`, 'hex'));
      clock.advance(100);
    }
    expect(link.report()).toMatchObject({ state: 'not understood', counters: { frames: 0 } });
  });
});

describe('trouble of any kind', () => {
  it.each(['rtu', 'tcp'] as const)('megabytes of noise on %s leave nothing behind', (line) => {
    const { link, clock, say, readings } = scriptedModbus(line);
    link.open();
    const noise = Buffer.alloc(65_536);
    for (let at = 0; at < noise.length; at += 1) noise[at] = (at * 2654435761) >>> 24;
    for (let step = 0; step < 40; step += 1) {
      say(noise);
      clock.advance(50);
    }
    expect(readings).toEqual([]);
    expect(link.report()).toMatchObject({
      state: 'not understood',
      fault: { code: 'modbus-garbled' },
    });
    expect(link.report().fault!.got.length).toBeLessThan(100);
  });

  it('a lost line is tried again, and the device is live with its first answer', () => {
    const { link, clock, tries, say, transport } = scriptedModbus('rtu');
    link.open();
    say(rtu('01 03 02 00 01'));
    transport().events.closed(fault('port-gone'), clock.now());
    expect(link.report()).toMatchObject({ state: 'lost', fault: { code: 'port-gone' } });
    clock.advance(250);
    expect(tries).toHaveLength(2);
    say(rtu('01 03 02 00 02'));
    expect(link.report()).toMatchObject({ state: 'live', counters: { reconnects: 1 } });
  });

  it('a closed link leaves no timer and asks nothing more', async () => {
    const { link, clock, asked, reports } = scriptedModbus('rtu');
    link.open();
    asked();
    await link.close();
    const told = reports.length;
    clock.advance(5000);
    expect(clock.timersSet).toBe(0);
    expect(asked()).toBe('');
    expect(reports).toHaveLength(told);
  });

  it('reports and readings keep the form that everyone else is promised', () => {
    const { link, clock, say, reports, readings } = scriptedModbus('tcp');
    link.open();
    say(Buffer.from('0001000000050103023039', 'hex'));
    clock.advance(3000);
    for (const one of reports) expect(checkerOf(LinkReport).check(one)).toMatchObject({ ok: true });
    for (const one of readings) expect(checkerOf(Reading).check(one)).toMatchObject({ ok: true });
  });
});
