import { createServer, type ServerResponse } from 'node:http';
import type { LinkConfig, LinkReport, Reading } from '@taptrue/protocol';
import { SYSTEM_CLOCK } from '@taptrue/server/devices/transport/clock.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { sourceFor } from '@taptrue/server/devices/transport/source-for.ts';
import { type AgentOptions, MtconnectAgent } from '@taptrue/simulators/mtconnect/agent.ts';
import { expect } from 'vitest';

const open: Link[] = [];
const stops: (() => Promise<unknown>)[] = [];

/** Closes what a test has opened; for `afterEach`. */
export async function closeAll(): Promise<void> {
  await Promise.all(open.splice(0).map((link) => link.close()));
  await Promise.all(stops.splice(0).map((stop) => stop()));
}

/** Stops with the rest. */
export function stopWith(stop: () => Promise<unknown>): void {
  stops.push(stop);
}

type Agent = Extract<LinkConfig['source'], { kind: 'mtconnect' }>;

/** A link to the agent at a port of this computer, as the service has one. */
export function linkTo(port: number, change: Partial<Agent> = {}, more: Partial<LinkConfig> = {}) {
  const source: Agent = {
    kind: 'mtconnect',
    host: '127.0.0.1',
    port,
    path: '',
    item: 'X',
    way: 'stream',
    everyMs: 20,
    ...change,
  };
  const config: LinkConfig = { source, shape: '', unit: 'as sent', channel: null, ...more };
  const readings: Reading[] = [];
  const second: Reading[] = [];
  const reports: LinkReport[] = [];
  const clock = SYSTEM_CLOCK;
  const simulatedPipes = (): never => {
    throw new Error('no simulation here');
  };
  const link = new Link({
    name: 'readout',
    config,
    source: sourceFor({ name: 'readout', config, shape: null, clock, simulatedPipes }),
    clock,
    onReading: (reading) => readings.push(reading),
    onSecond: (reading) => second.push(reading),
    onReport: (report) => reports.push(report),
  });
  open.push(link);
  link.open();
  const becomes = (state: string, timeout = 6000) =>
    expect.poll(() => link.report().state, { timeout, interval: 10 }).toBe(state);
  const shows = (value: number | null, timeout = 6000) =>
    expect.poll(() => readings.at(-1)?.value, { timeout, interval: 5 }).toBe(value);
  return { link, readings, second, reports, becomes, shows };
}

/** A simulated agent with X at 1.0001 mm and Y at -2.5 mm. */
export async function agentWith(options: AgentOptions = {}) {
  const agent = new MtconnectAgent(options);
  agent.set('x-actual', '1.0001');
  agent.set('y-actual', '-2.5');
  const port = await agent.start();
  stops.push(() => agent.stop());
  return { agent, port };
}

/** A host of the test's own that speaks HTTP as it likes. */
export async function host(
  answer: (url: string, response: ServerResponse) => void,
): Promise<number> {
  const server = createServer((request, response) => answer(request.url ?? '', response));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  stops.push(async () => {
    server.closeAllConnections();
    await new Promise((resolve) => server.close(resolve));
  });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
}
