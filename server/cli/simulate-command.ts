import { createInterface } from 'node:readline';
import { BenchPorts } from '@taptrue/simulators/bench-ports.ts';
import { REAL_CLOCK } from '@taptrue/simulators/clock.ts';
import { DemoBench } from '@taptrue/simulators/demo-bench.ts';
import { BenchRegisters } from '@taptrue/simulators/modbus/bench-registers.ts';
import { BenchAgent } from '@taptrue/simulators/mtconnect/bench-agent.ts';
import { NoPseudoTerminal } from '@taptrue/simulators/over-pty.ts';
import { TypedBench } from '@taptrue/simulators/typed-bench.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { ownShapesIn } from './own-shapes.ts';
import { readSimulateOptions, SIMULATE_HELP, type SimulateOptions } from './simulate-options.ts';

const WORKED_HERE = 'Lines typed here work the bench; help lists them, quit or Ctrl-C ends.';

function pathsText(ports: BenchPorts): string {
  return [...ports.paths].map(([name, path]) => `${name}: ${path}`).join('\n');
}

function startText(ports: BenchPorts, options: SimulateOptions): string {
  const serve = [...ports.paths].map(([name, path]) => {
    const { name: shape, fields } = options.shapes[name];
    // A line without a unit means nothing until somebody says which.
    const unit = fields.some((field) => field.kind === 'unit')
      ? ''
      : ` --${name}-unit ${options.unit}`;
    return `--${name} ${path} --${name}-shape ${shape}${unit}`;
  });
  if (serve.length === 0) return 'SIMULATED bench.';
  return [
    'SIMULATED bench on pseudo-terminals.',
    pathsText(ports),
    'In another terminal:',
    `  npm start -- ${serve.join(' ')}`,
  ].join('\n');
}

function registersText(registers: BenchRegisters): string {
  return registers
    .serveOptions()
    .map((options) => {
      const way = options.includes('modbus-rtu:') ? 'on one serial line' : 'by TCP';
      return `The same bench as registers, ${way}: npm start -- ${options}`;
    })
    .join('\n');
}

/** Runs until quit, Ctrl-C or the time is up. Input that ends, as in the background, ends nothing. */
function untilEnded(bench: TypedBench, seconds: number | null, terminal: Terminal): Promise<void> {
  return new Promise((resolve, reject) => {
    const input = createInterface({ input: process.stdin, terminal: false });
    const timer = seconds === null ? null : setTimeout(end, seconds * 1000);
    // One line after the other: a replug takes a moment, and the next line may need its port.
    let before: Promise<void> = Promise.resolve();
    input.on('line', (text) => {
      before = before.then(async () => {
        const answer = await bench.type(text);
        if (answer === null) end();
        else terminal.out(answer);
      });
      before.catch(reject);
    });
    process.once('SIGINT', end);
    process.once('SIGTERM', end);
    function end() {
      if (timer) clearTimeout(timer);
      process.removeListener('SIGINT', end);
      process.removeListener('SIGTERM', end);
      input.close();
      process.stdin.pause();
      resolve();
    }
  });
}

/** Throws a refusal in its own words where this system has no pseudo-terminals. */
async function orRefuse(open: () => Promise<void>): Promise<void> {
  try {
    await open();
  } catch (error) {
    if (error instanceof NoPseudoTerminal) throw new Refusal(error.message);
    throw error;
  }
}

async function startRegisters(registers: BenchRegisters, port: number | null): Promise<void> {
  try {
    await orRefuse(() => registers.start());
  } catch (error) {
    if (!(error instanceof Error && 'syscall' in error && error.syscall === 'listen')) throw error;
    throw new Refusal(
      `The Modbus units could not listen on port ${port} (${error.message}); give another --modbus.`,
    );
  }
}

/** The agent of the simulated machine, where one was asked for. */
async function startAgent(
  bench: DemoBench,
  port: number | null,
): Promise<{ text: string; stop(): Promise<void> }> {
  if (port === null) return { text: '', stop: async () => undefined };
  const agent = new BenchAgent(bench, REAL_CLOCK);
  try {
    const opened = await agent.start(port);
    return {
      text: `The table as an agent tells it: --readout mtconnect://127.0.0.1:${opened}/X`,
      stop: () => agent.stop(),
    };
  } catch (error) {
    const got = error instanceof Error ? error.message : String(error);
    throw new Refusal(`The agent could not listen on port ${port} (${got}); give another --agent.`);
  }
}

async function run(args: string[], terminal: Terminal): Promise<number> {
  const options = readSimulateOptions(args, ownShapesIn);
  const bench = new DemoBench({
    seed: options.seed,
    outOfTrueMm: options.outOfTrueMm,
    clock: REAL_CLOCK,
    indicatorShape: options.shapes.indicator,
    readoutShape: options.shapes.readout,
    indicatorPerSecond: options.readingsPerSecond,
    readoutPerSecond: options.readingsPerSecond,
    unit: options.unit,
  });
  const ports = new BenchPorts(bench, options.names, options.link);
  const typed = new TypedBench({
    bench,
    clock: REAL_CLOCK,
    unit: options.unit,
    traverseMmPerSecond: options.traverseMmPerSecond,
    async unplug() {
      await ports.unplug();
      return 'Unplugged.';
    },
    async replug() {
      await orRefuse(() => ports.plugIn());
      return pathsText(ports);
    },
  });
  const registers = new BenchRegisters({
    bench,
    unit: options.unit,
    tcpPort: options.modbusPort,
    onPty: options.modbusRtu,
    link: options.link === null ? null : `${options.link}-modbus`,
  });
  let stopAgent: () => Promise<void> = async () => undefined;
  try {
    await orRefuse(() => ports.plugIn());
    const agent = await startAgent(bench, options.agentPort);
    stopAgent = agent.stop;
    await startRegisters(registers, options.modbusPort);
    // First the ear for Ctrl-C, then the text that names it: whoever reads it may press at once.
    const ended = untilEnded(typed, options.seconds, terminal);
    const told = [startText(ports, options), agent.text, registersText(registers), WORKED_HERE];
    terminal.out(told.filter(Boolean).join('\n'));
    if (!options.still) typed.play();
    await ended;
    if (ports.overrunFrames > 0) {
      terminal.err(`${ports.overrunFrames} readings were dropped: nobody fetched them.`);
    }
    return EXIT.done;
  } finally {
    typed.close();
    await stopAgent();
    await registers.stop();
    await ports.unplug();
    bench.close();
  }
}

export const simulateCommand: CliCommand = {
  name: 'simulate',
  summary: 'puts a simulated indicator or readout on a pseudo-terminal',
  help: SIMULATE_HELP,
  run,
};
