import { once } from 'node:events';
import { createInterface } from 'node:readline';
import type { Command } from '@taptrue/protocol';
import { BenchService } from '@taptrue/server/service/bench-service.ts';

/*
 * A bench in a process of its own, to be killed. It waits until it is told to begin, so that its start is not
 * part of what is timed; then it measures without end and says what was acknowledged.
 *   in:  {"folder":…,"keyedFrom":n} or {"folder":…,"ports":[indicator, readout]}
 *   out: "warm", "open <ms> <job> <sweep> <samples>", then "ack <n>" for every station acknowledged
 */
interface Begin {
  folder: string;
  keyedFrom?: number;
  ports?: [number, number];
}

const SWEEPS_A_JOB = 8;
const say = (line: string) => process.stdout.write(`${line}\n`);

say('warm');
const [line] = (await once(createInterface(process.stdin), 'line')) as [string];
const begin = JSON.parse(line) as Begin;
const before = performance.now();
const service = await BenchService.start({
  name: 'mill',
  dataFolder: begin.folder,
  demo: false,
  addresses: [],
  connect: begin.ports ? { indicator: tcp(begin.ports[0]), readout: tcp(begin.ports[1]) } : {},
});
const { bench, sweep } = service.store.state;
say(
  `open ${Math.round(performance.now() - before)} ${bench.job.number} ${sweep?.id ?? 0} ${sweep?.samples ?? 0}`,
);
await (begin.keyedFrom === undefined ? streamed() : keyed(begin.keyedFrom));

function tcp(port: number) {
  return {
    source: { kind: 'tcp', host: '127.0.0.1', port },
    shape: 'signed-decimal',
    unit: 'mm',
    channel: null,
  } as const;
}

async function must(command: Command): Promise<void> {
  const answer = await service.command(command, 'bench screen');
  if (!answer.ok) throw new Error(`${command.kind}: ${answer.fault.what} ${answer.fault.got}`);
}

async function keyed(from: number): Promise<void> {
  await must({
    kind: 'change setup',
    change: { way: 'stations', entry: 'keyed', rises: 'toward', backPass: false },
  }).catch(() => undefined);
  for (let n = from; ; n += 1) {
    await beginWhereNone();
    await must({ kind: 'take station', keyed: (n / 10_000).toFixed(4) });
    say(`ack ${n}`);
  }
}

async function streamed(): Promise<void> {
  await must({
    kind: 'change setup',
    change: { way: 'readout', entry: 'device', rises: 'toward', counts: 1, leftEndCountMm: 0 },
  }).catch(() => undefined);
  for (;;) {
    await beginWhereNone();
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

async function beginWhereNone(): Promise<void> {
  const { sweep: running, history } = service.store.state;
  if (running?.state === 'being taken') return;
  if (history.sweeps.length >= SWEEPS_A_JOB) await must({ kind: 'new job' });
  await must({ kind: 'begin sweep' });
}
