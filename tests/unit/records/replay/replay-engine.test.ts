import { type BenchState, type RecordEntry, SECTION_NAMES } from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';
import { recordedJob, Watched } from './recorded-job.ts';

/** Of the bench that measured, not of the record: files, and faults that were told. */
const NOT_REPLAYED = new Set(['replay', 'live']);

function expectSameBench(seen: Partial<BenchState>, bench: Readonly<BenchState>): void {
  for (const name of SECTION_NAMES) {
    if (!NOT_REPLAYED.has(name)) expect(seen[name], name).toEqual(bench[name]);
  }
}

const endOf = (record: readonly RecordEntry[]) => record.at(-1)!.atMs;
const timesOf = (record: readonly RecordEntry[], kind: RecordEntry['entry']) =>
  record.filter(({ entry }) => entry === kind).map(({ atMs }) => atMs);

describe('a replay', () => {
  test('stands at the beginning of the job, with nothing measured yet', () => {
    const { recorded } = recordedJob();
    const { screen, replay } = new Watched(recorded);
    expect(screen.sweep).toBeNull();
    expect(screen.history?.sweeps).toEqual([]);
    expect(replay).toMatchObject({
      atMs: recorded[0]!.atMs,
      beginsMs: recorded[0]!.atMs,
      endsMs: endOf(recorded),
      isPlaying: false,
      speed: 1,
      goingThere: null,
      compared: null,
    });
  });

  test('played to its end shows the bench as it stood, and every figure as it was recorded', () => {
    const { recorded, state } = recordedJob();
    const watched = new Watched(recorded);
    watched.engine.move({ move: 'play' }, watched.nowMs);
    watched.pass(endOf(recorded) - recorded[0]!.atMs + 300);
    expectSameBench(watched.screen, state);
    expect(watched.replay).toMatchObject({ isPlaying: false, different: 0, why: '' });
    expect(watched.replay.same).toBe(
      timesOf(recorded, 'station').length +
        timesOf(recorded, 'tap step').length +
        timesOf(recorded, 'sweep ended').length +
        timesOf(recorded, 'between sweeps').length,
    );
    expect(watched.replay.compared).toMatchObject({ sweep: 2, isSame: true });
    expect(watched.replay.compared!.recomputed).toEqual(watched.replay.compared!.recorded);
  });

  test.each([0.25, 0.5, 1, 2, 10, 50])('at ×%s goes that much of its time in a second', (speed) => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded, {
      span: [recorded[0]!.atMs, recorded[0]!.atMs + 100_000],
    });
    watched.engine.move({ move: 'speed', speed }, watched.nowMs);
    watched.engine.move({ move: 'play' }, watched.nowMs);
    watched.pass(1000);
    watched.engine.move({ move: 'pause' }, watched.nowMs);
    watched.settle();
    expect(watched.replay.atMs - watched.replay.beginsMs).toBeCloseTo(1000 * speed, 6);
    expect(watched.replay.reachedSpeed).toBeNull();
  });

  test('paused stands still, and goes on from where it stood', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded);
    watched.engine.move({ move: 'play' }, watched.nowMs);
    watched.pass(320);
    watched.engine.move({ move: 'pause' }, watched.nowMs);
    watched.settle();
    const stood = watched.replay.atMs;
    watched.pass(60_000);
    expect(watched.replay.atMs).toBe(stood);
    watched.engine.move({ move: 'play' }, watched.nowMs);
    watched.pass(160);
    watched.engine.move({ move: 'pause' }, watched.nowMs);
    watched.settle();
    expect(watched.replay.atMs).toBeCloseTo(stood + 160, 6);
  });

  test('played again from its end begins anew', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded);
    watched.engine.move({ move: 'to', atMs: endOf(recorded) }, watched.nowMs);
    watched.settle();
    watched.engine.move({ move: 'play' }, watched.nowMs);
    watched.settle();
    expect(watched.screen.history?.sweeps).toEqual([]);
  });
});

describe('the time scale', () => {
  test('sent to any entry, there or back, shows the bench as it stood after it', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded);
    const seen = new Map<number, string>();
    for (const { atMs } of recorded) {
      watched.engine.move({ move: 'to', atMs }, watched.nowMs);
      watched.settle();
      seen.set(atMs, JSON.stringify([watched.screen.sweep, watched.screen.tap]));
    }
    expect(new Set(seen.values()).size).toBeGreaterThan(12);
    for (const atMs of [...seen.keys()].reverse()) {
      watched.engine.move({ move: 'to', atMs }, watched.nowMs);
      watched.settle();
      expect(JSON.stringify([watched.screen.sweep, watched.screen.tap])).toBe(seen.get(atMs));
    }
  });

  test('sent past an end stands at that end', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded);
    watched.engine.move({ move: 'to', atMs: 1e12 }, watched.nowMs);
    watched.settle();
    expect(watched.replay.atMs).toBe(endOf(recorded));
    watched.engine.move({ move: 'to', atMs: -1e12 }, watched.nowMs);
    watched.settle();
    expect(watched.replay.atMs).toBe(recorded[0]!.atMs);
  });

  test('steps forth over all stations and taps and back again, and says so where there is no more', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded);
    for (const [to, kind] of [
      ['station', 'station'],
      ['tap', 'tap step'],
    ] as const) {
      const times = timesOf(recorded, kind);
      const stepped: number[] = [];
      watched.engine.move({ move: 'to', atMs: 0 }, watched.nowMs);
      while (watched.engine.move({ move: 'step', way: 'on', to }, watched.nowMs).ok) {
        watched.settle();
        stepped.push(watched.replay.atMs);
      }
      expect(stepped).toEqual(times);
      const back = [stepped.at(-1)];
      while (watched.engine.move({ move: 'step', way: 'back', to }, watched.nowMs).ok) {
        watched.settle();
        back.push(watched.replay.atMs);
      }
      expect(back.reverse()).toEqual(times);
    }
    const answer = watched.engine.move({ move: 'step', way: 'back', to: 'tap' }, watched.nowMs);
    expect(answer).toMatchObject({ ok: false, fault: { code: 'replay-nothing-further' } });
  });

  test('keeps what is shown while it goes far back, and tells how far it is', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded, { inPiece: 2 });
    watched.engine.move({ move: 'to', atMs: endOf(recorded) }, watched.nowMs);
    watched.settle();
    const before = watched.screen.history;
    watched.engine.move({ move: 'to', atMs: endOf(recorded) - 1 }, watched.nowMs);
    // The time of this slice is over at once: nothing is there yet to be shown.
    watched.engine.advance(watched.nowMs, () => false);
    watched.nowMs += 200;
    Object.assign(watched.screen, watched.engine.take(watched.nowMs));
    if (watched.replay.goingThere !== null) expect(watched.screen.history).toBe(before);
    watched.settle();
    expect(watched.replay.goingThere).toBeNull();
    expect(watched.screen.history?.sweeps).toHaveLength(1);
  });
});

describe('another setup tried', () => {
  const wide = { kind: 'end to end', mm: 0.5, overMm: null } as const;

  test('holds for the whole record, against what was recorded, which stands beside it', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded);
    watched.engine.move({ move: 'to', atMs: endOf(recorded) }, watched.nowMs);
    watched.settle();
    const recordedSweeps = watched.screen.history!.sweeps.map(({ result }) => result.verdict);
    watched.engine.command({ kind: 'change setup', change: { limit: wide } });
    watched.settle();
    expect(recordedSweeps).toEqual(['not true', 'true']);
    expect(watched.screen.history!.sweeps.map(({ result }) => result.verdict)).toEqual([
      'true',
      'true',
    ]);
    expect(watched.screen.setup!.limit).toEqual(wide);
    expect(watched.replay.whatIf).toEqual(['limit']);
    expect(watched.replay.recordedSetup.limit).toMatchObject({ mm: 0.02 });
    expect(watched.replay.atMs).toBe(endOf(recorded));
    expect(watched.replay.compared).toMatchObject({ isSame: false });
    expect(watched.replay.why).toBe('The setup is tried otherwise than recorded.');
    watched.engine.move({ move: 'as recorded' }, watched.nowMs);
    watched.settle();
    expect(watched.replay).toMatchObject({ whatIf: [], different: 0, why: '' });
  });

  test('stands again where the record sets the same part', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded);
    watched.engine.command({ kind: 'change setup', change: { decisionRule: 'plain' } });
    watched.settle();
    expect(watched.screen.setup!.decisionRule).toBe('plain');
    watched.engine.command({ kind: 'change setup', change: { rises: 'away' } });
    watched.engine.move({ move: 'to', atMs: endOf(recorded) }, watched.nowMs);
    watched.settle();
    expect(watched.screen.setup).toMatchObject({ decisionRule: 'plain', rises: 'away' });
    expect(watched.replay.recordedSetup).toMatchObject({ decisionRule: 'plain', rises: 'toward' });
    const [first] = watched.screen.history!.sweeps;
    expect(first!.result.slope).toBeLessThan(0);
  });

  test('as it was recorded is not another one', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded);
    watched.engine.move({ move: 'to', atMs: endOf(recorded) }, watched.nowMs);
    watched.settle();
    watched.engine.command({ kind: 'change setup', change: { rises: 'toward' } });
    watched.settle();
    expect(watched.replay.whatIf).toEqual([]);
  });

  test.each([
    [{ kind: 'begin sweep' }],
    [{ kind: 'take station', keyed: '1' }],
    [{ kind: 'change setup', change: { sweptLengthMm: 20 } }],
    [{ kind: 'new job' }],
    [{ kind: 'set stage', stage: 'tight' }],
  ] as const)('%j is refused: nothing is measured in a replay', (command) => {
    const { recorded } = recordedJob();
    const { engine } = new Watched(recorded);
    const copy = JSON.parse(JSON.stringify(command));
    expect(engine.command(copy)).toMatchObject({
      ok: false,
      fault: { code: 'replay-measures-nothing' },
    });
  });
});

describe('a record that is not whole', () => {
  test('is told by job and piece, and the rest plays on', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded, { damaged: [3] });
    watched.engine.move({ move: 'to', atMs: endOf(recorded) }, watched.nowMs);
    watched.settle();
    expect(watched.screen.faults!.standing).toMatchObject([
      { code: 'record-piece-damaged', got: 'piece 3 of job-1: incorrect header check' },
    ]);
    expect(watched.replay.piecesDamaged).toBe(1);
    expect(watched.replay.why).toBe('A piece of the record could not be read.');
    expect(watched.screen.history!.sweeps.length).toBeGreaterThan(0);
    watched.engine.command({ kind: 'clear fault', code: 'record-piece-damaged' });
    watched.settle();
    expect(watched.screen.faults!.standing).toEqual([]);
  });

  test('cut within a line loses that piece from there on', () => {
    const { recorded } = recordedJob();
    const watched = new Watched(recorded);
    watched.lines[9] = watched.lines[9]!.slice(0, 40);
    watched.engine.move({ move: 'to', atMs: endOf(recorded) }, watched.nowMs);
    watched.settle();
    expect(watched.replay.piecesDamaged).toBe(1);
    expect(watched.screen.faults!.standing[0]!.got).toContain('piece 3 of job-1');
  });

  test('without its first piece cannot be replayed at all', () => {
    const { recorded } = recordedJob();
    expect(() => new Watched(recorded, { damaged: [1] })).toThrow('record-without-beginning');
  });

  test('of another version says so where figures differ', () => {
    const { recorded } = recordedJob();
    const older = recorded.map((entry) => {
      if (entry.entry === 'opened') return { ...entry, version: '1.-1' };
      if (entry.entry === 'sweep ended' && entry.result)
        return { ...entry, result: { ...entry.result, outOfTrueArcsec: 1 } };
      return entry;
    });
    const watched = new Watched(older);
    watched.engine.move({ move: 'to', atMs: endOf(recorded) }, watched.nowMs);
    watched.settle();
    expect(watched.replay.why).toMatch(
      /^It was recorded by version 1\.-1 and is reckoned again by/,
    );
    expect(watched.replay.compared!.recorded!.outOfTrueArcsec).toBe(1);
    expect(watched.replay.compared!.recomputed!.outOfTrueArcsec).not.toBe(1);
  });
});

test('a speed that cannot be kept is said, and nothing is left out to keep it', () => {
  const { recorded } = recordedJob();
  const watched = new Watched(recorded);
  watched.engine.move({ move: 'speed', speed: 50 }, watched.nowMs);
  watched.engine.move({ move: 'play' }, watched.nowMs);
  const startMs = watched.nowMs;
  // Each slice ends where the first look at the clock is taken: an entry or a few at a time.
  while (watched.engine.isBusy) {
    watched.nowMs += 400;
    watched.engine.advance(watched.nowMs, () => false);
    Object.assign(watched.screen, watched.engine.take(watched.nowMs));
    if (watched.nowMs - startMs > 100_000) throw new Error('it never ends');
  }
  watched.settle();
  expect(watched.replay.different).toBe(0);
  expect(watched.screen.history!.sweeps).toHaveLength(2);
});
