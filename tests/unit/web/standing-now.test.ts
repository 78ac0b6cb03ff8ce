import { whyNotToGoBy } from '@taptrue/web/view/reading-standing.ts';
import { standingNow } from '@taptrue/web/view/standing-now.ts';
import { describe, expect, it } from 'vitest';
import { replayed } from '../../browser/example-replays.ts';
import { tapLive } from '../../browser/example-states.ts';

const connected = { connection: { kind: 'connected' } as const, liveReceivedAtMs: 1000 };

function withAge(state = tapLive()) {
  return { ...state, live: { ...state.live, ageMs: 0, staleAfterMs: 250 } };
}

describe('the standing of the reading in this frame', () => {
  it('goes stale by the clock alone, and then nobody may tap by it', () => {
    expect(standingNow(connected, withAge(), 1250)).toMatchObject({ word: 'live' });
    const stale = standingNow(connected, withAge(), 1251);
    expect(stale).toMatchObject({ word: 'stale', greyed: true });
    expect(whyNotToGoBy(stale)).toContain('Do not tap');
  });

  it.each([
    [false, 4, 60_000, 'live'],
    [true, 4, 1062, 'live'],
    [true, 4, 1063, 'stale'],
    [true, 0.25, 2000, 'live'],
  ])('in a replay, playing %s at ×%f: after %f ms %s', (isPlaying, speed, nowMs, word) => {
    const state = withAge(replayed());
    const replay = { ...state.replay!, isPlaying, speed };
    expect(standingNow(connected, { ...state, replay }, nowMs).word).toBe(word);
  });

  it('leaves what was typed standing, where no device sends', () => {
    const state = withAge();
    const typed = { ...state, live: { ...state.live, indicator: null } };
    expect(whyNotToGoBy(standingNow(connected, typed, 9000))).toBe('');
    const gone = { ...connected, connection: { kind: 'lost', why: 'no answer' } as const };
    expect(whyNotToGoBy(standingNow(gone, typed, 9000))).toContain('connection is lost');
  });
});
