import { main } from '@taptrue/server/cli/main.ts';
import { ManualClock } from '@taptrue/simulators/clock.ts';
import { BenchAgent } from '@taptrue/simulators/mtconnect/bench-agent.ts';
import { describe, expect, it } from 'vitest';

describe('the simulated table as an agent tells it', () => {
  it('moves with the table, and only what has changed is told', async () => {
    const clock = new ManualClock();
    let tableMm = 12.5;
    const agent = new BenchAgent({ section: () => ({ tableMm }) }, clock);
    const base = `http://127.0.0.1:${await agent.start(0)}`;
    const current = async () => (await fetch(`${base}/current`)).text();
    expect(await current()).toMatch(/subType="ACTUAL"[^>]*>12\.5000</);
    tableMm = 13;
    clock.advance(50);
    const moved = await current();
    expect(moved).toMatch(/subType="ACTUAL"[^>]*>13\.0000</);
    clock.advance(1000);
    const sequence = (text: string) => /nextSequence="(\d+)"/.exec(text)?.[1];
    expect(sequence(await current())).toBe(sequence(moved));
    await agent.stop();
  });

  it('is refused a port that is no port', async () => {
    const err: string[] = [];
    const terminal = { out: () => undefined, err: (text: string) => err.push(text) };
    expect(await main(['simulate', '--agent', 'mill'], terminal)).toBe(3);
    expect(err.join('')).toMatch(/--agent takes a port number/);
  });
});
