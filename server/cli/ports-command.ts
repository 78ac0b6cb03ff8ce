import type { PortDescription } from '@taptrue/protocol';
import { findPorts } from '../devices/transport/find-ports.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal } from './command.ts';
import { textTable } from './text-table.ts';

const HELP = [
  'taptrue ports [--json]',
  '',
  'Lists the serial ports of this computer. The identity stays the same when the device is replugged or',
  'the computer restarted, and can be used in place of the port; one that is known by its socket stays the',
  'same in that socket only. A port that is not in the list can be used all the same, by its path.',
].join('\n');

/** `taptrue ports`: a table, or with --json one array of port descriptions. */
export const portsCommand: CliCommand = {
  name: 'ports',
  summary: 'lists serial ports with their stable identity',
  help: HELP,
  async run(args, terminal) {
    const { values, positionals } = readArguments(args, { json: { type: 'boolean' } });
    if (positionals.length > 0) {
      throw new Refusal(
        `taptrue ports lists all ports and takes no name; got "${positionals[0]}". To hear one: taptrue listen --port PORT.`,
      );
    }
    const ports = await findPorts();
    terminal.out(values.json === true ? JSON.stringify(ports, null, 2) : portsText(ports));
    return EXIT.done;
  },
};

/** The table a person reads, or what to do where there is nothing to list. */
export function portsText(ports: readonly PortDescription[]): string {
  if (ports.length === 0) {
    return 'No serial port found. Plug the device in and ask again; a path can be named without being listed.';
  }
  return textTable(
    ['PORT', 'IDENTITY', 'KNOWN BY', 'WHAT IT IS'],
    ports.map((port) => [port.path, port.identity, port.knownBy, port.title]),
  );
}
