import {
  AHEAD_OF_FRAME_MS,
  ClientLag,
  CUT_AFTER_MS,
  LEAST_BETWEEN_MESSAGES_MS,
  MOST_BUFFERED_BYTES,
  MOST_UNPAINTED,
} from '@taptrue/server/stream/client-lag.ts';
import { describe, expect, test } from 'vitest';

const UNDER_WAY = MOST_UNPAINTED * 2;

/** A screen that was sent `count` messages, one a frame, from 1,000 ms on. */
function sentTo(count: number): { lag: ClientLag; nowMs: number } {
  const lag = new ClientLag(1000);
  let nowMs = 1000;
  for (let sequence = 1; sequence <= count; sequence += 1) {
    lag.sent(sequence, nowMs);
    nowMs += LEAST_BETWEEN_MESSAGES_MS;
  }
  return { lag, nowMs };
}

describe('at most sixty messages a second', () => {
  test('the first may go at once, the next one frame later', () => {
    const lag = new ClientLag(1000);
    expect(lag.waitMs(1000)).toBe(0);
    lag.sent(1, 1000);
    expect(lag.waitMs(1000)).toBeCloseTo(1000 / 60, 9);
    expect(lag.waitMs(1010)).toBeCloseTo(1000 / 60 - 10, 9);
    expect(lag.waitMs(1017)).toBe(0);
  });

  test.each([
    ['in step', () => 1],
    ['at any time', (index: number) => ((index * 2_654_435_761) >>> 8) % 17],
    ['one millisecond earlier each time', (index: number) => -index],
  ])('also where the screen acknowledges %s', (_case, shiftMs) => {
    const lag = new ClientLag(0);
    let sent = 0;
    for (let nowMs = 0; nowMs < 10_000; nowMs += 0.5) {
      if (nowMs % 100 === 0) lag.painted(sent, true, nowMs + shiftMs(nowMs / 100));
      if (lag.waitMs(nowMs) > 0) continue;
      sent += 1;
      lag.sent(sent, nowMs);
    }
    expect(sent).toBeLessThanOrEqual(601);
    expect(sent).toBeGreaterThan(540);
  });
});

describe('in step with the frames of the screen', () => {
  const frameMs = LEAST_BETWEEN_MESSAGES_MS;

  test.each([2, 8, 15])(
    'a message sent %d ms after a frame is followed by one just before a frame',
    (afterMs) => {
      const lag = new ClientLag(0);
      lag.painted(0, true, 1000);
      const sentMs = 1000 + afterMs;
      lag.sent(1, sentMs);
      const nextMs = sentMs + lag.waitMs(sentMs);
      const framesOn = (nextMs + AHEAD_OF_FRAME_MS - 1000) / frameMs;
      expect(framesOn).toBeCloseTo(Math.round(framesOn), 9);
      expect(Math.abs(nextMs - sentMs - frameMs)).toBeLessThanOrEqual(frameMs / 2 + 1e-9);
    },
  );

  test('a hidden screen draws no frames to be in step with', () => {
    const lag = new ClientLag(0);
    lag.painted(0, true, 1000);
    lag.painted(0, false, 1003);
    lag.sent(1, 1004);
    expect(lag.waitMs(1004)).toBeCloseTo(frameMs, 9);
  });

  test('after a pause a message goes at once', () => {
    const lag = new ClientLag(0);
    lag.painted(0, true, 1000);
    lag.sent(1, 1000);
    expect(lag.waitMs(1100)).toBe(0);
  });
});

describe('a screen that is behind', () => {
  test(`waits with ${UNDER_WAY} messages under way, not before`, () => {
    const before = sentTo(UNDER_WAY - 1);
    expect(before.lag.advise(before.nowMs, 0)).toBe('send');
    const behind = sentTo(UNDER_WAY);
    expect(behind.lag.advise(behind.nowMs, 0)).toBe('wait');
  });

  test('stays behind until everything under way is painted, then gets the latest', () => {
    const { lag, nowMs } = sentTo(UNDER_WAY);
    lag.advise(nowMs, 0);
    lag.painted(UNDER_WAY - 1, true, nowMs);
    expect(lag.advise(nowMs, 0)).toBe('wait');
    lag.painted(UNDER_WAY, true, nowMs);
    expect(lag.advise(nowMs, 0)).toBe('send');
  });

  test('has what it was not sent counted until the next message', () => {
    const { lag, nowMs } = sentTo(UNDER_WAY);
    for (let state = 0; state < 5; state += 1) lag.advise(nowMs, 0);
    expect(lag.skipped).toBe(5);
    lag.painted(UNDER_WAY, true, nowMs);
    lag.sent(UNDER_WAY + 6, nowMs);
    expect(lag.skipped).toBe(0);
  });

  test.each([
    [MOST_BUFFERED_BYTES, 'send'],
    [MOST_BUFFERED_BYTES + 1, 'wait'],
  ] as const)('with %d bytes unsent in its socket: %s', (bytes, advice) => {
    const { lag, nowMs } = sentTo(1);
    expect(lag.advise(nowMs, bytes)).toBe(advice);
  });
});

describe('a screen that paints nothing', () => {
  test.each([
    ['visible, five seconds', true, CUT_AFTER_MS, 'send'],
    ['visible, longer', true, CUT_AFTER_MS + 1, 'cut'],
    ['hidden, an hour', false, 3_600_000, 'send'],
  ] as const)('%s: %s', (_case, visible, silentMs, advice) => {
    const lag = new ClientLag(1000);
    lag.painted(0, visible, 1000);
    lag.sent(1, 1000);
    expect(lag.advise(1000 + silentMs, 0)).toBe(advice);
  });

  test('is not cut while nothing was sent to it that it could have painted', () => {
    const lag = new ClientLag(1000);
    lag.sent(1, 1000);
    lag.painted(1, true, 1010);
    expect(lag.advise(100_000, 0)).toBe('send');
  });

  test('is not cut for being slow as long as it paints something', () => {
    const { lag, nowMs } = sentTo(UNDER_WAY);
    expect(lag.advise(nowMs, 0)).toBe('wait');
    for (let sequence = 1; sequence < UNDER_WAY; sequence += 1) {
      lag.painted(sequence, true, 1000 + sequence * 4000);
      expect(lag.advise(1000 + sequence * 4000 + 3999, 0)).toBe('wait');
    }
  });

  test('has five seconds again from when it comes to the front', () => {
    const lag = new ClientLag(1000);
    lag.painted(0, false, 1000);
    lag.sent(1, 1000);
    lag.painted(0, true, 60_000);
    expect(lag.advise(60_000 + CUT_AFTER_MS, 0)).toBe('send');
    expect(lag.advise(60_000 + CUT_AFTER_MS + 1, 0)).toBe('cut');
  });
});
