import {
  type AccessSection,
  checkerOf,
  PROTOCOL_VERSION,
  type Role,
  ServiceMessage,
} from '@taptrue/protocol';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { Hub, type Screen } from '@taptrue/server/stream/hub.ts';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';

const messages = checkerOf(ServiceMessage);
const ACCESS: AccessSection = {
  pairingCode: '123456',
  addresses: ['192.0.2.7'],
  tablets: [],
  triesLeft: 5,
};

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** A screen that paints what it is sent, unless told otherwise. Every message must fit the schema. */
function screenAt(hub: Hub, role: Role = 'bench screen', options: { paints?: boolean } = {}) {
  const got: ServiceMessage[] = [];
  const state = { buffered: 0, isCut: false, paints: options.paints ?? true, visible: true };
  let joined: ReturnType<Hub['join']> | null = null;
  const screen: Screen = {
    role,
    bufferedBytes: () => state.buffered,
    send: (text) => {
      const checked = messages.parse(text);
      if (!checked.ok) throw new Error(`${checked.why} in ${text.slice(0, 200)}`);
      got.push(checked.value);
      if (state.paints) setTimeout(() => joined?.painted(checked.value.sequence, state.visible), 5);
    },
    cut: () => {
      state.isCut = true;
    },
  };
  joined = hub.join(screen);
  const changes = () => got.filter((message) => message.type === 'change');
  return { got, state, changes, ...joined };
}

function opened() {
  const store = new SectionStore(firstState('mill', PROTOCOL_VERSION));
  const hub = new Hub(store, ACCESS, () => Date.now());
  /** Sets the tableful of live readings once a millisecond. */
  const runFor = (ms: number, everyMs = 1) => {
    for (let at = 0; at < ms; at += everyMs) {
      store.set('live', { ...store.get('live'), ageMs: at });
      vi.advanceTimersByTime(everyMs);
    }
  };
  return { store, hub, runFor };
}

describe('the greeting', () => {
  test.each([
    ['bench screen', ACCESS],
    ['paired tablet', null],
    ['watcher', null],
  ] as const)(
    'tells a %s what it is, the whole state, and who may command only where it may know',
    (role, access) => {
      const { store, hub } = opened();
      store.set('tap', null);
      const { got } = screenAt(hub, role);
      expect(got).toEqual([
        { type: 'hello', version: PROTOCOL_VERSION, role, sequence: 1, state: store.state, access },
      ]);
      hub.close();
    },
  );
});

describe('a change', () => {
  test('goes out with its section whole and nothing else', () => {
    const { store, hub } = opened();
    const { changes } = screenAt(hub);
    vi.advanceTimersByTime(100);
    store.set('history', { sweeps: [] });
    vi.advanceTimersByTime(100);
    expect(changes()).toEqual([
      { type: 'change', sequence: 1, skipped: 0, state: { history: { sweeps: [] } } },
    ]);
    hub.close();
  });

  test('of a thousand a second sixty go out, each with the latest', () => {
    const { store, hub, runFor } = opened();
    const { changes } = screenAt(hub);
    runFor(2000);
    vi.advanceTimersByTime(50);
    const sent = changes();
    expect(sent.length).toBeGreaterThanOrEqual(110);
    expect(sent.length).toBeLessThanOrEqual(121);
    expect(sent.at(-1)).toMatchObject({
      sequence: store.sequence,
      state: { live: { ageMs: 1999 } },
    });
    const sequences = sent.map((message) => message.sequence);
    expect(sequences).toEqual([...new Set(sequences)].sort((a, b) => a - b));
    hub.close();
  });

  test('makes the text of a section once for thirty screens', () => {
    const { store, hub } = opened();
    const screens = Array.from({ length: 30 }, () => screenAt(hub));
    vi.advanceTimersByTime(100);
    const text = vi.spyOn(JSON, 'stringify');
    store.set('live', { ...store.get('live'), ageMs: 7 });
    const madeOfLive = text.mock.calls.filter(([value]) => value === store.get('live')).length;
    text.mockRestore();
    expect(madeOfLive).toBe(1);
    for (const screen of screens) expect(screen.changes()).toHaveLength(1);
    hub.close();
  });
});

describe('a slow screen', () => {
  test('gets no queue: once it has painted what was under way it gets the latest, and how many it missed', () => {
    const { store, hub, runFor } = opened();
    const slow = screenAt(hub, 'watcher', { paints: false });
    runFor(1000);
    const underWay = slow.changes().length;
    expect(underWay).toBe(11);
    slow.painted(slow.got.at(-1)!.sequence, true);
    const last = slow.changes().at(-1)!;
    expect(slow.changes()).toHaveLength(underWay + 1);
    expect(last).toMatchObject({ sequence: store.sequence, state: { live: { ageMs: 999 } } });
    expect(last.skipped).toBeGreaterThan(700);
    hub.close();
  });

  test('never delays another', () => {
    const { store, hub, runFor } = opened();
    const alone = opened();
    const good = screenAt(alone.hub);
    alone.runFor(1000);
    const before = good.changes().length;
    screenAt(hub, 'watcher', { paints: false });
    const full = screenAt(hub, 'watcher');
    full.state.buffered = 10_000_000;
    const beside = screenAt(hub);
    runFor(1000);
    expect(beside.changes()).toHaveLength(before);
    expect(beside.changes().at(-1)!.sequence).toBeGreaterThan(store.sequence - 20);
    expect(full.changes()).toHaveLength(0);
    hub.close();
    alone.hub.close();
  });

  test('that paints nothing for more than five seconds is cut and counted, and gone', () => {
    const { hub, runFor } = opened();
    const dead = screenAt(hub, 'watcher', { paints: false });
    runFor(4900, 10);
    expect(dead.state.isCut).toBe(false);
    runFor(300, 10);
    expect(dead.state.isCut).toBe(true);
    expect([hub.screens, hub.screensCut]).toEqual([0, 1]);
    const heard = dead.got.length;
    runFor(1000, 10);
    expect(dead.got).toHaveLength(heard);
    hub.close();
  });

  test('that is hidden is not cut, and is brought up to date when it comes to the front', () => {
    const { store, hub, runFor } = opened();
    const hidden = screenAt(hub, 'watcher', { paints: false });
    hidden.painted(0, false);
    runFor(60_000, 100);
    expect(hidden.state.isCut).toBe(false);
    hidden.painted(hidden.got.at(-1)!.sequence, true);
    expect(hidden.changes().at(-1)!.sequence).toBe(store.sequence);
    hub.close();
  });

  test('with a full socket is tried again by itself once a second', () => {
    const { store, hub } = opened();
    const full = screenAt(hub);
    vi.advanceTimersByTime(100);
    full.state.buffered = 1_000_000;
    store.set('tap', null);
    full.state.buffered = 0;
    expect(full.changes()).toHaveLength(0);
    vi.advanceTimersByTime(1000);
    expect(full.changes()).toHaveLength(1);
    hub.close();
  });
});

describe('a quiet bench', () => {
  test('says once a second that it is still here', () => {
    const { hub } = opened();
    const { got } = screenAt(hub);
    vi.advanceTimersByTime(3000);
    expect(got.slice(1)).toEqual(
      Array.from({ length: 3 }, () => ({ type: 'still here', sequence: 0 })),
    );
    hub.close();
  });

  test('is silent after it was closed, its screens cut', () => {
    const { store, hub } = opened();
    const { got, state } = screenAt(hub);
    store.set('tap', null);
    hub.close();
    store.set('tap', null);
    vi.advanceTimersByTime(5000);
    expect(got).toHaveLength(1);
    expect([state.isCut, hub.screens]).toEqual([true, 0]);
  });

  test('forgets a screen that left', () => {
    const { store, hub } = opened();
    const { got, leave } = screenAt(hub);
    leave();
    store.set('tap', null);
    vi.advanceTimersByTime(2000);
    expect([got.length, hub.screens]).toEqual([1, 0]);
    hub.close();
  });
});

describe('who may command', () => {
  test('is told to bench screens when it changes, to no other', () => {
    const { hub } = opened();
    const bench = screenAt(hub, 'bench screen');
    const tablet = screenAt(hub, 'paired tablet');
    const watcher = screenAt(hub, 'watcher');
    vi.advanceTimersByTime(100);
    const access = { ...ACCESS, tablets: [{ id: 'a', name: 'at the handwheel' }] };
    hub.setAccess(access);
    vi.advanceTimersByTime(100);
    expect(bench.changes()).toEqual([
      { type: 'change', sequence: 1, skipped: 0, state: {}, access },
    ]);
    expect([...tablet.changes(), ...watcher.changes()]).toEqual([]);
    hub.close();
  });

  test('screens of one role can be cut and no other', () => {
    const { hub } = opened();
    const bench = screenAt(hub, 'bench screen');
    const tablets = [screenAt(hub, 'paired tablet'), screenAt(hub, 'paired tablet')];
    hub.cutScreens('paired tablet');
    expect(tablets.map((tablet) => tablet.state.isCut)).toEqual([true, true]);
    expect([bench.state.isCut, hub.screens]).toEqual([false, 1]);
    hub.close();
  });
});
