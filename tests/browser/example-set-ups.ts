import type { BenchState, Command } from '@taptrue/protocol';
import { Bench } from '@taptrue/server/bench/bench.ts';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { shippedSetUps } from '@taptrue/server/records/set-ups/shipped-set-ups.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { nothingSet } from './example-states.ts';

/** A bench that was told these commands, as far as its set-ups go. */
function after(commands: readonly Command[]): BenchState {
  const store = new SectionStore(firstState('mill', '1.1'));
  const about = { name: 'mill', serviceVersion: '1.1', remembered: null, record: () => {} };
  const bench = new Bench(store, { ...about, setUps: shippedSetUps });
  for (const [index, command] of commands.entries()) {
    const answer = bench.command(command, index);
    if (!answer.ok) throw new Error(`${command.kind}: ${answer.fault.what}`);
  }
  return { ...nothingSet(), setUps: store.get('setUps') };
}

const tell = (ask: string, text: string): Command => ({ kind: 'tell set-up', ask, text });
const take = (at: number, inches: number): Command => ({
  kind: 'take set-up reading',
  at: String(at),
  keyed: inches.toFixed(4),
  sure: true,
});

export const setUpsOffered = () => after([]);

/** High by 1.5 thou away from the operator over 8 inches. */
export const headRead = () =>
  after([
    { kind: 'choose set-up', name: 'head' },
    tell('diameter', '8'),
    ...[0, 45, 90, 135, 180, 225, 270, 315].map((deg) =>
      take(deg, 0.0015 * Math.sin((deg * Math.PI) / 180) + (deg % 90 === 0 ? 0 : 0.0001)),
    ),
  ]);

export const partProved = () =>
  after([
    { kind: 'choose set-up', name: 'part-on-plate' },
    tell('set-angle', '7deg30min'),
    tell('stack', 'left'),
    tell('tolerance', '1min'),
    ...[0, 1, 2, 3, 4].map((x) => take(x, 0.0006 * x + (x % 2) * 0.0001)),
    { kind: 'keep set-up' },
  ]);
