import { SECTION_NAMES } from '@taptrue/protocol';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { expect, test } from 'vitest';

const newStore = () => new SectionStore(firstState('mill 3', '1.0'));

test('what is set is what is got, and the sequence rises with every change', () => {
  const store = newStore();
  expect(store.sequence).toBe(0);
  store.set('history', { sweeps: [] });
  store.set('tap', null);
  expect(store.sequence).toBe(2);
  expect(store.get('tap')).toBeNull();
  expect(store.state.bench.name).toBe('mill 3');
});

test('only the sections set after a sequence are named', () => {
  const store = newStore();
  expect(store.changedSince(0)).toEqual([]);
  store.set('live', store.get('live'));
  const seen = store.sequence;
  store.set('faults', { standing: [] });
  store.set('setup', store.get('setup'));
  expect(store.changedSince(seen)).toEqual(['setup', 'faults']);
  expect(store.changedSince(0)).toEqual(['live', 'setup', 'faults']);
  expect(store.changedSince(-1)).toEqual([...SECTION_NAMES]);
});

test('the text of a section is made once a revision, however many ask for it', () => {
  const store = newStore();
  let made = 0;
  const counting = {
    standing: [],
    toJSON: () => {
      made += 1;
      return { standing: [] };
    },
  };
  store.set('faults', counting);
  for (let screen = 0; screen < 20; screen += 1) {
    expect(store.text('faults')).toBe('"faults":{"standing":[]}');
  }
  expect(made).toBe(1);
  store.set('faults', counting);
  store.text('faults');
  expect(made).toBe(2);
});

test('listeners are told after every change until they leave', () => {
  const store = newStore();
  const told: number[] = [];
  const leave = store.onChange(() => told.push(store.sequence));
  store.set('tap', null);
  store.set('tap', null);
  leave();
  store.set('tap', null);
  expect(told).toEqual([1, 2]);
});
