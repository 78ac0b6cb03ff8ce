import { faultLine } from '@taptrue/protocol';
import type { FindNow } from '../devices/finding/find-device.ts';
import { findOn } from '../devices/finding/find-on.ts';
import { stepWords } from '../devices/finding/find-words.ts';
import type { FindStep, ListenStep } from '../devices/finding/steps.ts';
import { type Clock, SYSTEM_CLOCK } from '../devices/transport/clock.ts';
import type { SerialOptions } from '../devices/transport/serial.ts';
import type { Transport } from '../devices/transport/transport.ts';
import { type CliCommand, EXIT, type Terminal } from './command.ts';
import { foundObject, foundText } from './find-lines.ts';
import { type FindCommandOptions, readFindOptions } from './find-options.ts';
import { ownShapesIn } from './own-shapes.ts';

const HELP = [
  'taptrue find --port PORT [--ask] [--wait SECONDS] [--json]',
  '',
  'Finds how to read the device on a port: speed, parity, control lines, line shape, unit. Listens through',
  'the likely settings and sends nothing. A device that streams is found within 15 s, most others within a',
  'minute. At the end it says one reading: if the device’s screen shows the same, that is it.',
  '',
  '  --port PORT     /dev/ttyUSB0, COM3, a name under /dev/serial/by-id, or tcp://host:port',
  '  --ask           lets it send requests of one character (R, ?, Q, A, 1, or a line end), for devices',
  '                  that send only when asked',
  '  --wait SECONDS  how long to wait for the device’s send key at the end; usual 30, 0: not at all',
  '  --data FOLDER   data folder with line shapes of the shop’s own',
  '  --json          one object a line: {"kind":"step"} with what is tried and secondsLeft; at last',
  '                  {"kind":"found"} with settings, lines, sends and candidates (likeliest first, each with',
  '                  the config a link is told), or {"kind":"nothing"} with the fault',
  '',
  'Exit codes: 0 found, 1 nothing found, 3 the arguments or the port are refused.',
].join('\n');

/** While nothing else changes, a person is told so often that the search goes on. */
const TOLD_EVERY_MS = 2000;

/** `taptrue find`. */
export const findCommand: CliCommand = {
  name: 'find',
  summary: 'finds how to read the device on a port: speed, parity, line shape',
  help: HELP,
  run: (args, terminal) => find(readFindOptions(args, ownShapesIn), terminal),
};

/** What the command listens with; a test has a time and a port of its own. */
export interface FindTools {
  clock: Clock;
  openSerial?: (options: SerialOptions) => Transport;
}

/** Searches and says what came of it; resolves to the exit code. */
export async function find(
  options: FindCommandOptions,
  terminal: Terminal,
  { clock, openSerial }: FindTools = { clock: SYSTEM_CLOCK },
): Promise<number> {
  const { source, shapes, ask, waitForKeyMs, json } = options;
  const say = sayer(json, terminal, clock);
  let ended = (_now: FindNow): void => undefined;
  const end = new Promise<FindNow>((resolve) => {
    ended = resolve;
  });
  const search = findOn({
    source,
    shapes,
    clock,
    ...(openSerial && { openSerial }),
    consent: ask ? 'given' : 'refused',
    waitForKeyMs,
    simulatedPipes: () => {
      throw new Error('a simulated device cannot be named on the command line');
    },
    onChange: (now) => {
      if (now.ending !== null || now.step?.kind === 'question') ended(now);
      else if (now.step) say(now.step, now.secondsLeft);
    },
  });
  const interrupted = () => void search.close();
  process.on('SIGINT', interrupted);
  search.start();
  const now = await end;
  process.off('SIGINT', interrupted);
  await search.close();
  if (now.step?.kind === 'question') {
    const { step } = now;
    terminal.out(json ? JSON.stringify(foundObject(source, step)) : foundText(source, step));
    return EXIT.done;
  }
  return notFound(now, json, terminal);
}

function notFound({ ending }: FindNow, json: boolean, terminal: Terminal): number {
  if (ending?.kind !== 'nothing') {
    terminal.err('Stopped before anything was found.');
    return EXIT.nothingFound;
  }
  const { fault } = ending;
  if (json) terminal.out(JSON.stringify({ kind: 'nothing', fault }));
  terminal.err(faultLine(fault));
  // Faults of the search itself say that nothing was found; all others, that the port could not be used.
  return fault.code.startsWith('find-') ? EXIT.nothingFound : EXIT.refused;
}

/** Progress: every step for a script, for a person what changes, and now and then that it goes on. */
function sayer(json: boolean, terminal: Terminal, clock: Clock) {
  let told = '';
  let toldAtMs = Number.NEGATIVE_INFINITY;
  return (step: FindStep, secondsLeft: number | null): void => {
    if (step.kind !== 'listen') return;
    if (json) {
      const { stage, tuning } = step;
      terminal.out(JSON.stringify({ kind: 'step', stage, ...tuning, secondsLeft }));
      return;
    }
    const now = clock.now();
    const what = JSON.stringify([step.stage, step.tuning.lines]);
    if (what === told && now - toldAtMs < TOLD_EVERY_MS) return;
    told = what;
    toldAtMs = now;
    terminal.out(progressLine(step, secondsLeft));
  };
}

function progressLine(step: ListenStep, secondsLeft: number | null): string {
  return `${stepWords(step)}${secondsLeft === null ? '' : ` ${secondsLeft} s left.`}`;
}
