import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';

/** Commands are loaded when they are called for: `--help` and `fit` need neither a port nor a service. */
const COMMANDS: Readonly<Record<string, { summary: string; load: () => Promise<CliCommand> }>> = {
  serve: {
    summary: 'runs the bench and its screens',
    load: async () => (await import('./serve-command.ts')).serveCommand,
  },
  fit: {
    summary: 'fits the line through a file of positions and readings',
    load: async () => (await import('./fit-command.ts')).fitCommand,
  },
  circle: {
    summary: 'fits readings round a circle: head tram, centre of a bore or boss, four-jaw',
    load: async () => (await import('./circle-command.ts')).circleCommand,
  },
  setups: {
    summary: 'lists the set-ups: what can be swept, and what puts it right',
    load: async () => (await import('./setups-command.ts')).setupsCommand,
  },
  plan: {
    summary: 'plans an angle from the print and prints its setup sheet',
    load: async () => (await import('./plan-command.ts')).planCommand,
  },
  stack: {
    summary: 'picks gauge blocks for an angle or a height, or checks a stack',
    load: async () => (await import('./stack-command.ts')).stackCommand,
  },
  budget: {
    summary: 'says how good the angle of the jaw can be, line by line',
    load: async () => (await import('./budget-command.ts')).budgetCommand,
  },
  ports: {
    summary: 'lists serial ports with their stable identity',
    load: async () => (await import('./ports-command.ts')).portsCommand,
  },
  settings: {
    summary: 'shows the settings and where each comes from',
    load: async () => (await import('./settings-command.ts')).settingsCommand,
  },
  report: {
    summary: 'prints system, ports, settings and last faults for a report, nothing private',
    load: async () => (await import('./report-command.ts')).reportCommand,
  },
  find: {
    summary: 'finds how to read the device on a port: speed, parity, line shape',
    load: async () => (await import('./find-command.ts')).findCommand,
  },
  listen: {
    summary: 'prints raw bytes and decoded readings of a port side by side',
    load: async () => (await import('./listen-command.ts')).listenCommand,
  },
  record: {
    summary: 'prints the one-page record of a job',
    load: async () => (await import('./record-command.ts')).recordCommand,
  },
  export: {
    summary: 'gives out jobs as recordings, or the points of a sweep as a table',
    load: async () => (await import('./export-command.ts')).exportCommand,
  },
  import: {
    summary: 'takes recordings in, after checking all of each',
    load: async () => (await import('./import-command.ts')).importCommand,
  },
  replay: {
    summary: 'tells a recording again and compares every result with what was recorded',
    load: async () => (await import('./replay-command.ts')).replayCommand,
  },
  verify: {
    summary: 'checks every record that is kept, or a file of recordings',
    load: async () => (await import('./verify-command.ts')).verifyCommand,
  },
  backup: {
    summary: 'copies all records into one file, while the service may run',
    load: async () => (await import('./backup-command.ts')).backupCommand,
  },
  restore: {
    summary: 'puts a backup in the place of the records; the old ones are kept beside',
    load: async () => (await import('./restore-command.ts')).restoreCommand,
  },
  simulate: {
    summary: 'puts a simulated indicator or readout on a pseudo-terminal',
    load: async () => (await import('./simulate-command.ts')).simulateCommand,
  },
};

const PROCESS_TERMINAL: Terminal = {
  out: (text) => void process.stdout.write(`${text}\n`),
  err: (text) => void process.stderr.write(`${text}\n`),
};

function generalHelp(): string {
  const width = Math.max(...Object.keys(COMMANDS).map((name) => name.length));
  const rows = Object.entries(COMMANDS).map(
    ([name, { summary }]) => `  ${name.padEnd(width)}  ${summary}`,
  );
  return [
    'taptrue: reads an indicator swept along a bar or jaw and says which end to tap, which way, how far.',
    '',
    'Commands:',
    ...rows,
    '',
    'taptrue COMMAND --help says more. Exit codes: 0 done or true, 1 not true or nothing found, 2 too close',
    'to call, 3 input refused (the reason is on standard error), 70 a fault of ours.',
  ].join('\n');
}

/** Runs one command line and gives its exit code. Never throws. */
export async function main(args: string[], terminal: Terminal = PROCESS_TERMINAL): Promise<number> {
  const [name, ...rest] = args;
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    terminal.out(generalHelp());
    return EXIT.done;
  }
  const entry = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (!entry) {
    terminal.err(
      `There is no command "${name}". Known: ${Object.keys(COMMANDS).join(', ')}. See taptrue --help.`,
    );
    return EXIT.refused;
  }
  try {
    const command = await entry.load();
    if (rest.includes('--help') || rest.includes('-h')) {
      terminal.out(command.help);
      return EXIT.done;
    }
    return await command.run(rest, terminal);
  } catch (error) {
    if (error instanceof Refusal) {
      terminal.err(error.message);
      return EXIT.refused;
    }
    terminal.err(
      `A fault of ours, please report it: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
    );
    return EXIT.ourFault;
  }
}
