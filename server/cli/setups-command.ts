import { loadSetUps } from '../records/set-ups/load-set-ups.ts';
import type { SetUp } from '../set-ups/set-up.ts';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { textTable } from './text-table.ts';

const HELP = `taptrue setups [--json]

Lists the set-ups: what is swept, what puts it right, and what each asks. A line is fitted by
taptrue fit FILE.csv --setup NAME, a circle by taptrue circle FILE.csv --setup NAME --diameter LENGTH.

  --json      print the rows whole, with words, usual limits and their sources, cautions

Exit codes: 0 listed; 3 input refused, the reason is on standard error; 70 a fault of ours.`;

function corrections(row: SetUp): string {
  const kinds =
    row.fit === 'circle'
      ? [row.circle.corrects]
      : row.planes.flatMap((plane) => plane.corrects.map(({ kind }) => kind));
  return [...new Set(kinds)].join(', ');
}

function asked(row: SetUp): string {
  const asks = row.asks.map(({ option, needed }) => (needed ? `--${option}` : `[--${option}]`));
  const first = row.fit === 'circle' ? ['--diameter'] : [];
  return [...first, ...asks].join(' ');
}

async function run(args: string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(args, { json: { type: 'boolean' } } as const);
  if (positionals.length > 0) {
    throw new Refusal(`taptrue setups takes no names. Got: ${positionals.join(', ')}.`);
  }
  const rows = await loadSetUps();
  terminal.out(
    values.json
      ? JSON.stringify(rows, null, 2)
      : textTable(
          ['name', 'fit', 'put right by', 'what it is', 'asks'],
          rows.map((row) => [row.name, row.fit, corrections(row), row.title, asked(row)]),
        ),
  );
  return EXIT.done;
}

export const setupsCommand: CliCommand = {
  name: 'setups',
  summary: 'lists the set-ups: what can be swept, and what puts it right',
  help: HELP,
  run,
};
