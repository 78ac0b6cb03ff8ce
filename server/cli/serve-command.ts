import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Fault, faultLine } from '@taptrue/protocol';
import { folderNameOf } from '../files/data-folder.ts';
import { buildApp } from '../http/build-app.ts';
import { FolderInUse } from '../records/store/folder-lock.ts';
import { ownAddresses } from '../service/access/allowed-hosts.ts';
import { readMemory } from '../service/bench-memory.ts';
import { BenchService } from '../service/bench-service.ts';
import type { ServiceOptions } from '../service/service-options.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { type ServeOptions, USUAL_PORT } from './serve-options.ts';
import { readSettingsOf } from './settings-of.ts';

/** By then the page is up and the devices are open; the first replay of the day then opens at once. */
const WARM_REPLAYS_AFTER_MS = 5_000;
/** A stalled screen may not hold the service: after this it is ended anyway. Two seconds are promised. */
const SHUTDOWN_WITHIN_MS = 1500;

const HELP = `taptrue serve: runs the bench and its screens.

  --port N                 port of the page (usual: ${USUAL_PORT}; 0: any free one)
  --listen                 reachable from tablets on this network, not from this computer only
  --name NAME              name of the bench; each has a memory of its own (usual: bench)
  --data FOLDER            where records and memory are kept
  --settings FILE          settings (usual: settings.json in that folder; see taptrue settings)
  --demo                   simulated indicator and readout, marked SIMULATED everywhere
  --seed N                 with --demo: which simulated vise
  --keyed                  no device and no demo: readings are typed in
  --indicator PORT         serial port (COM3, /dev/ttyUSB0), tcp://host:port, or registers and agents:
                           modbus-tcp://host,holding=N  modbus-rtu:COM3,input=N  mtconnect://host/X
                           (the words behind the commas: taptrue listen --help)
  --indicator-shape SHAPE  what its line looks like (usual: signed-decimal)
  --indicator-unit UNIT    mm, in, or as-sent (usual)
  --indicator-channel C    channel to listen to, where the line carries one
  --indicator-second C     another axis beside it: a channel, a register, a data item
  --indicator-baud N       where it differs from the shape's usual rate
  --readout PORT ...       the same for the position readout (usual shape: axis-readout)

With no device named and none remembered, the demo runs. Ctrl-C stops the service.`;

/** The demo runs where asked for, or where nothing real is known of and typing was not asked for. */
async function wantsDemo(options: ServeOptions, dataFolder: string): Promise<boolean> {
  if (options.demo) return true;
  if (options.keyed || Object.keys(options.connect).length > 0) return false;
  const { memory } = await readMemory(join(dataFolder, folderNameOf(options.name), 'bench.json'));
  return !memory || (memory.links.indicator === null && memory.links.readout === null);
}

/**
 * What is wrong before anything was measured: a settings file with a mistake, a record that cannot be written.
 * Faults of devices come and go while they open, and the page tells them.
 */
function faultsAtStart(service: BenchService): Fault[] {
  const { standing } = service.store.state.faults;
  return standing.filter(({ from }) => from !== 'indicator' && from !== 'readout');
}

function greet(
  terminal: Terminal,
  service: BenchService,
  port: number,
  demo: boolean,
  addresses: readonly string[],
): void {
  terminal.out('');
  terminal.out(
    `Taptrue bench "${service.store.state.bench.name}" is open at http://localhost:${port}/`,
  );
  for (const address of addresses)
    terminal.out(`  and from elsewhere at http://${address}:${port}/`);
  if (addresses.length === 0)
    terminal.out('  Only this computer can reach it; start with --listen to let tablets in.');
  if (addresses.length > 0) {
    terminal.out(
      '  Screens elsewhere only watch until paired with the code under Devices on this computer.',
    );
  }
  if (demo) {
    terminal.out(
      '  SIMULATED: no device is connected, so a simulated indicator, readout and vise are running.',
    );
    terminal.out('  Connect a real one with --indicator PORT, or type readings in with --keyed.');
  }
  terminal.out(`  Record: ${service.store.state.bench.recordFile}`);
  for (const fault of faultsAtStart(service)) terminal.err(`  Fault: ${faultLine(fault)}`);
  terminal.out('  It shows and advises; it moves nothing and is no interlock. Ctrl-C stops it.');
}

/**
 * Ctrl-C or a polite end. The handlers stay: npm passes the terminal's Ctrl-C on a second time, and that one
 * would cut the service off before its memory is written. The end of a terminal is not among them, so that a
 * bench started with nohup outlives it.
 */
function untilStopped(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => resolve());
  });
}

/** A second service would mix its records with those of the first. */
async function started(options: ServiceOptions): Promise<BenchService> {
  try {
    return await BenchService.start(options);
  } catch (error) {
    if (error instanceof FolderInUse) throw new Refusal(faultLine(error.fault));
    throw error;
  }
}

async function listen(
  app: Awaited<ReturnType<typeof buildApp>>,
  host: string,
  port: number,
): Promise<number> {
  try {
    await app.listen({ host, port });
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'EADDRINUSE') {
      throw new Refusal(
        `Port ${port} is taken, perhaps by a bench that is running already. Open http://localhost:${port}/, or choose another with --port N (0: any free one).`,
      );
    }
    if (error instanceof Error && 'code' in error && error.code === 'EACCES') {
      throw new Refusal(
        `Port ${port} may not be opened by this user; those below 1024 are the system's own on many machines. Choose another with --port N (usual: ${USUAL_PORT}).`,
      );
    }
    throw error;
  }
  const address = app.server.address();
  return typeof address === 'object' && address ? address.port : port;
}

export const serveCommand: CliCommand = {
  name: 'serve',
  summary: 'runs the bench and its screens',
  help: HELP,
  async run(args, terminal) {
    const { options, dataFolder, settings } = await readSettingsOf(args);
    const demo = await wantsDemo(options, dataFolder);
    const addresses = options.listenToAll ? ownAddresses() : [];
    const service = await started({
      name: options.name,
      dataFolder,
      demo,
      ...(options.seed === null ? {} : { demoSeed: options.seed }),
      addresses,
      connect: options.connect,
      settings,
    });
    const pageFolder = fileURLToPath(new URL('../../web/dist', import.meta.url));
    const app = await buildApp(service, pageFolder);
    try {
      const port = await listen(app, options.listenToAll ? '0.0.0.0' : '127.0.0.1', options.port);
      // First the ear for Ctrl-C, then the text that names it: whoever reads it may press at once.
      const stopped = untilStopped();
      greet(terminal, service, port, demo, addresses);
      const warming = setTimeout(() => service.replays.warm(), WARM_REPLAYS_AFTER_MS);
      await stopped;
      clearTimeout(warming);
      terminal.out('Stopping.');
    } finally {
      // Whatever still hangs after this is let go: the record is on disk by then.
      const deadline = setTimeout(() => process.exit(EXIT.done), SHUTDOWN_WITHIN_MS);
      await service.close();
      await app.close();
      clearTimeout(deadline);
    }
    return EXIT.done;
  },
};
