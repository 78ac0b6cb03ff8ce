import { homedir, hostname, userInfo } from 'node:os';
import { BenchState, checkerOf, PROTOCOL_VERSION } from '@taptrue/protocol';
import { findPorts } from '../devices/transport/find-ports.ts';
import { hindranceOf } from '../devices/transport/watch-ports.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal } from './command.ts';
import { redact } from './report/redact.ts';
import { type ReportFacts, reportText } from './report/report-text.ts';
import { systemFacts } from './report/system-facts.ts';
import { USUAL_PORT } from './serve-options.ts';
import { readSettingsOf } from './settings-of.ts';

/** A service that takes longer to say how it is would be the report. */
const ANSWER_WITHIN_MS = 2000;

const HELP = [
  'taptrue report [--port N] [--data FOLDER] [--settings FILE]',
  '',
  'Prints what a report of a fault needs: system, ports and the rights to them, settings, and of the running',
  'service its devices and last faults. Home folders, names, network addresses, serial numbers and pairing',
  'codes are left out; read it through all the same before you pass it on.',
].join('\n');

const stateCheck = checkerOf(BenchState);

/** `taptrue report`: exit 0, also where no service runs. */
export const reportCommand: CliCommand = {
  name: 'report',
  summary: 'prints system, ports, settings and last faults for a report, nothing private',
  help: HELP,
  async run(args, terminal) {
    const { values, positionals } = readArguments(args, {
      port: { type: 'string' },
      data: { type: 'string' },
      settings: { type: 'string' },
    });
    if (positionals.length > 0) {
      throw new Refusal(`taptrue report takes no name; got "${positionals[0]}".`);
    }
    const serveArgs = Object.entries(values).flatMap(([name, value]) => [
      `--${name}`,
      String(value),
    ]);
    const { options, settings } = await readSettingsOf(serveArgs);
    const found = await findPorts();
    const ports = await Promise.all(
      found.map(async (port) => ({ ...port, hindrance: await hindranceOf(port.path) })),
    );
    const { running, names } = await runningService(options.port || USUAL_PORT);
    const text = reportText({
      version: PROTOCOL_VERSION,
      system: systemFacts(),
      ports,
      settings,
      running,
    });
    const secret = {
      homeFolder: homedir(),
      userName: nameOfUser(),
      hostName: hostname(),
      names: [...names, options.name].filter((name) => name !== 'bench' && name !== 'demo'),
    };
    terminal.out(redact(text, secret));
    return EXIT.done;
  },
};

function nameOfUser(): string {
  try {
    return userInfo().username;
  } catch {
    return '';
  }
}

async function runningService(
  port: number,
): Promise<{ running: ReportFacts['running']; names: string[] }> {
  const ask = async (path: string) => {
    const response = await fetch(`http://127.0.0.1:${port}${path}`, {
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    });
    return response.text();
  };
  try {
    const checked = stateCheck.parse(await ask('/api/state'));
    if (!checked.ok) return { running: null, names: [] };
    const { links, faults, bench } = checked.value;
    const health = JSON.parse(await ask('/api/health')) as Record<string, string | number>;
    return { running: { links, faults: faults.standing, health }, names: [bench.name] };
  } catch {
    return { running: null, names: [] };
  }
}
