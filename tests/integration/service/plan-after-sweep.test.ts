import { afterAll, beforeAll, expect, test } from 'vitest';
import { listening, must } from './running-service.ts';

type Running = Awaited<ReturnType<typeof listening>>;
let running: Running;
beforeAll(async () => {
  running = await listening({});
});
afterAll(() => running.clear());

const state = () => running.service.store.state;

async function takeOver(angle: string): Promise<void> {
  const { port } = running;
  const tolerance = { kind: 'angle', text: '5min' } as const;
  const change = { angle: { text: angle, kind: 'angle' }, tolerance } as const;
  await must(port, { kind: 'change plan', change });
  const { blocks, wear } = state().plan.answer!.stack!;
  await must(port, { kind: 'blocks taken', blocks: [...blocks, ...wear] });
  await must(port, { kind: 'use plan' });
}

test.each(['60deg', '22deg31min'])(
  'a plan of %s taken over after a sweep relabels nothing: it begins a job of its own',
  async (other) => {
    const { port } = running;
    const before = state().bench.job.number;
    await must(port, { kind: 'new job' });
    await must(port, { kind: 'change setup', change: { rises: 'toward' } });
    await takeOver('22deg30min');
    expect(state().bench.job.number).toBe(before + 1);
    await must(port, { kind: 'set stage', stage: 'tight' });
    await must(port, { kind: 'begin sweep' });
    for (const _ of state().setup.stationsMm)
      await must(port, { kind: 'take station', keyed: '0.0001' });
    expect(state().history.sweeps).toHaveLength(1);
    // The same plan once more is no other one.
    await must(port, { kind: 'use plan' });
    expect(state().bench.job.number).toBe(before + 1);
    await takeOver(other);
    expect(state().bench.job).toMatchObject({ number: before + 2, standing: 'loose' });
    expect([state().sweep, state().history.sweeps]).toEqual([null, []]);
  },
);
