import { LONGEST_RETRY_MS, retryDelayMs } from '@taptrue/web/connection/retry-delay.ts';
import { describe, expect, it } from 'vitest';

describe('the wait before connecting again', () => {
  it.each([
    [0, 0, 125],
    [0, 1, 250],
    [1, 1, 500],
    [2, 1, 1_000],
    [3, 1, 2_000],
    [40, 1, LONGEST_RETRY_MS],
    [40, 0, LONGEST_RETRY_MS / 2],
  ])('attempt %i with chance %d waits %i ms', (attempt, random, waitMs) => {
    expect(retryDelayMs(attempt, random)).toBe(waitMs);
  });
});
