import { AskInTurn } from '@taptrue/server/devices/transport/ask-in-turn.ts';
import {
  AWAY_EVERY_MS,
  GAP_MS,
  LineTurns,
  RESTS_MS,
} from '@taptrue/server/devices/transport/line-turns.ts';
import { describe, expect, it } from 'vitest';
import { FakeClock } from './fake-clock.ts';

function line() {
  const clock = new FakeClock();
  const turns = new LineTurns(clock);
  const startMs = clock.now();
  /** What was sent, as `name at ms`. */
  const sent: string[] = [];
  const asker = (name: string, everyMs: number | null, answerWithinMs: number, key = 'line') => {
    const turn = turns.on(key, answerWithinMs);
    const missed = { times: 0 };
    const asking = new AskInTurn({
      clock,
      everyMs,
      answerWithinMs,
      turn,
      send: () => sent.push(`${name} ${clock.now() - startMs}`),
      unanswered: () => {
        missed.times += 1;
      },
    });
    return { asking, turn, missed };
  };
  return { clock, turns, sent, asker };
}

describe('two devices that are asked on one line', () => {
  it('are asked in turn, the next as soon as the one before has answered and the line is quiet', () => {
    const { clock, sent, asker } = line();
    const [one, other] = [asker('one', 100, 500), asker('other', 100, 500)];
    one.asking.start();
    other.asking.start();
    expect(sent).toEqual(['one 0']);
    clock.advance(30);
    one.asking.answered();
    expect(sent).toEqual(['one 0']);
    clock.advance(GAP_MS);
    expect(sent).toEqual(['one 0', 'other 35']);
    clock.advance(15);
    other.asking.answered();
    clock.advance(50);
    expect(sent.at(-1)).toBe('one 100');
    clock.advance(200);
    // Not while the answer to the other is outstanding, however long its own turn has come.
    expect(sent).toHaveLength(3);
    one.asking.answered();
    clock.advance(GAP_MS);
    expect(sent.at(-1)).toBe('other 305');
  });

  it('have each its own wait, begun when its own request goes out', () => {
    const { clock, sent, asker } = line();
    const [slow, fast] = [asker('slow', 100, 400), asker('fast', 100, 50)];
    slow.asking.start();
    fast.asking.start();
    clock.advance(399);
    expect([slow.missed.times, fast.missed.times]).toEqual([0, 0]);
    clock.advance(1 + RESTS_MS);
    expect(slow.missed.times).toBe(1);
    expect(sent.at(-1)).toBe(`fast ${400 + RESTS_MS}`);
    clock.advance(49);
    expect(fast.missed.times).toBe(0);
    clock.advance(1);
    expect(fast.missed.times).toBe(1);
  });

  it('hear only what comes in their own turn, late answers in the rest behind it among it', () => {
    const { clock, asker } = line();
    const [one, other] = [asker('one', 100, 50), asker('other', 100, 50)];
    one.asking.start();
    other.asking.start();
    expect([one.turn.hears(), other.turn.hears()]).toEqual([true, false]);
    clock.advance(50 + RESTS_MS - 1);
    expect([one.turn.hears(), other.turn.hears()]).toEqual([true, false]);
    clock.advance(1);
    expect([one.turn.hears(), other.turn.hears()]).toEqual([false, true]);
  });

  it('one that is away costs the other no more than its wait every two seconds', () => {
    const { clock, sent, asker } = line();
    const [away, there] = [asker('away', 100, 500), asker('there', 100, 500)];
    away.asking.start();
    there.asking.start();
    for (let gone = 0; gone < 30_000; gone += 5) {
      clock.advance(5);
      if (there.turn.hears()) there.asking.answered();
    }
    const asked = (name: string) => sent.filter((text) => text.startsWith(`${name} `)).length;
    expect(away.missed.times).toBe(asked('away'));
    expect(asked('away')).toBeGreaterThanOrEqual(30_000 / AWAY_EVERY_MS - 2);
    expect(asked('away')).toBeLessThanOrEqual(30_000 / AWAY_EVERY_MS + 3);
    expect(there.missed.times).toBe(0);
    // Ten a second, less what is lost while the other is waited for: 600 of every 2000 ms.
    expect(asked('there')).toBeGreaterThan(190);
  });

  it('one that leaves in the middle of its turn leaves the line free, once its answer is past', () => {
    const { clock, turns, sent, asker } = line();
    const [one, other] = [asker('one', 100, 500), asker('other', null, 500)];
    one.asking.start();
    other.asking.start();
    other.asking.askNow();
    expect(sent).toEqual(['one 0']);
    one.asking.stop();
    clock.advance(RESTS_MS - 1);
    expect(sent).toEqual(['one 0']);
    expect(other.turn.hears()).toBe(false);
    clock.advance(1);
    expect(sent).toEqual(['one 0', `other ${RESTS_MS}`]);
    other.asking.stop();
    expect(turns.linesUsed).toBe(0);
    expect(clock.timersSet).toBe(0);
  });

  it('one that leaves while it waits is not asked any more', () => {
    const { clock, sent, asker } = line();
    const [one, other] = [asker('one', 100, 500), asker('other', 100, 500)];
    one.asking.start();
    other.asking.start();
    other.asking.stop();
    one.asking.answered();
    clock.advance(RESTS_MS - 1);
    expect(sent).toEqual(['one 0']);
  });

  it('know how long the other may hold the line, so that its wait is no silence of theirs', () => {
    const { asker } = line();
    const [one, other] = [asker('one', 100, 300), asker('other', 100, 5000)];
    one.asking.start();
    expect(one.turn.othersHoldMs()).toBe(0);
    other.asking.start();
    expect(one.turn.othersHoldMs()).toBe(5000 + RESTS_MS);
  });
});

it('devices on two lines wait for nobody', () => {
  const { sent, asker } = line();
  asker('one', 100, 500, 'first line').asking.start();
  asker('other', 100, 500, 'second line').asking.start();
  expect(sent).toEqual(['one 0', 'other 0']);
});
