import { faultLine, hasLines, type LinkReport, type Reading } from '@taptrue/protocol';
import { SHAPES } from '../devices/formats/shape-table.ts';
import { SYSTEM_CLOCK } from '../devices/transport/clock.ts';
import { Link } from '../devices/transport/keep-open.ts';
import { MODBUS_TEXT } from '../devices/transport/modbus/modbus-from-text.ts';
import { MTCONNECT_TEXT } from '../devices/transport/mtconnect/mtconnect-from-text.ts';
import { overhear } from '../devices/transport/overhear.ts';
import { sourceFor } from '../devices/transport/source-for.ts';
import { type CliCommand, EXIT, type Terminal } from './command.ts';
import { chunkLines, readingLine, stateLine, summaryText } from './listen-lines.ts';
import { type ListenOptions, readListenOptions } from './listen-options.ts';
import { ownShapesIn } from './own-shapes.ts';

const HELP = [
  'taptrue listen --port PORT --shape SHAPE [options]',
  'taptrue listen --port modbus-tcp://HOST,holding=REGISTER --unit mm',
  'taptrue listen --port mtconnect://HOST/AXIS',
  '',
  'Prints what arrives, byte for byte, and beside it what was understood; states and faults as they',
  'happen; the counters at the end. Ends on Ctrl-C.',
  '',
  '  --port PORT       /dev/ttyUSB0, COM3, a name under /dev/serial/by-id, or tcp://host:port',
  `                    ${MODBUS_TEXT}`,
  `                    ${MTCONNECT_TEXT}`,
  '  --shape SHAPE     what a line of the device looks like, see below',
  '  --unit UNIT       mm, in, or as-sent (usual): unit of the number where the line carries none',
  '  --channel TAG     channel or axis to hear; usual: the first that gives a number',
  '  --second TAG      another axis beside it: a channel, a register, a data item',
  '  --baud N  --data-bits 7|8  --parity none|even|odd  --stop-bits 1|2   usual: as the shape says',
  '  --dtr up|down  --rts up|down   levels of these lines once open; usual: as the shape says',
  '  --data FOLDER     where the shop’s own shapes are, in its folder shapes',
  '  --seconds N       ends by itself',
  '  --json            one object a line: bytes, readings, states, at last the counters',
  '',
  'Shapes, beside the shop’s own:',
  ...SHAPES.map((shape) => `  ${shape.name.padEnd(24)}${shape.title}`),
].join('\n');

/** `taptrue listen`: exit 0 at its end, 3 where the arguments or the port are refused. */
export const listenCommand: CliCommand = {
  name: 'listen',
  summary: 'prints raw bytes and decoded readings of a port side by side',
  help: HELP,
  run: (args, terminal) => listen(readListenOptions(args, ownShapesIn), terminal),
};

async function listen(options: ListenOptions, terminal: Terminal): Promise<number> {
  const { config, shape, json } = options;
  const startMs = SYSTEM_CLOCK.now();
  const sinceStart = (atMs: number) => Math.max(0, atMs - startMs);
  const ending = endOf(options.seconds);
  const readings: Reading[] = [];
  let given = 0;
  let shown = '';
  let code: number = EXIT.done;

  const say = (object: object, lines: () => string[]) => {
    if (json) terminal.out(JSON.stringify(object));
    else for (const line of lines()) terminal.out(line);
  };

  const onBytes = (chunk: Uint8Array, atMs: number) => {
    const ended = readings.splice(0);
    const ms = sinceStart(atMs);
    const raw = Buffer.from(chunk).toString('latin1');
    say({ kind: 'bytes', ms, raw, readings: ended }, () => chunkLines(chunk, ended, ms));
  };

  /** Of registers and documents the bytes say nothing to the eye; what was in them does. */
  const onReading = (reading: Reading) => {
    given += 1;
    if (hasLines(config.source)) readings.push(reading);
    else {
      const ms = sinceStart(reading.atMs);
      say({ kind: 'reading', ms, reading }, () => [readingLine(reading, ms)]);
    }
  };

  const onReport = (report: LinkReport) => {
    const state = `${report.state}/${report.fault?.code ?? ''}`;
    if (state === shown || report.state === 'not set') return;
    const first = shown === '' || shown === 'opening/';
    shown = state;
    if (report.state === 'refused' && first && report.fault !== null) {
      // Never open yet: the name or the right to it is wrong, and waiting would not tell.
      terminal.err(faultLine(report.fault));
      code = EXIT.refused;
      ending.now();
      return;
    }
    const ms = sinceStart(SYSTEM_CLOCK.now());
    const { state: now, fault } = report;
    say({ kind: 'state', ms, state: now, fault }, () => [stateLine(report, ms)]);
  };

  const link = new Link({
    name: 'indicator',
    config,
    clock: SYSTEM_CLOCK,
    source: sourceFor({
      name: 'indicator',
      config,
      shape,
      clock: SYSTEM_CLOCK,
      simulatedPipes: noSimulation,
      through: (maker) => (hasLines(config.source) ? overhear(maker, onBytes) : maker),
    }),
    onReading,
    onSecond: onReading,
    onReport,
  });
  link.open();
  await ending.reached;
  const report = link.report();
  await link.close();
  if (code === EXIT.done) {
    const { counters } = report;
    say({ kind: 'end', readings: given, counters }, () => [summaryText(report, given)]);
  }
  return code;
}

/** Ends after so many seconds, at an interrupt, or now. */
function endOf(seconds: number | null): { reached: Promise<void>; now: () => void } {
  let now = (): void => undefined;
  const reached = new Promise<void>((resolve) => {
    const timer = seconds === null ? undefined : setTimeout(() => now(), seconds * 1000);
    now = () => {
      clearTimeout(timer);
      process.off('SIGINT', now);
      resolve();
    };
    process.on('SIGINT', now);
  });
  return { reached, now: () => now() };
}

function noSimulation(): never {
  throw new Error('a simulated device cannot be named on the command line');
}
