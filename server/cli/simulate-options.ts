import { resolve } from 'node:path';
import {
  type LengthUnit,
  type LineShape,
  type LinkName,
  parseLengthMm,
  parseNumber,
} from '@taptrue/protocol';
import { BENCH_LINES_HELP } from '@taptrue/simulators/bench-line.ts';
import { SHIPPED, type ShapeTable } from '../devices/formats/shape-table.ts';
import { readArguments } from './arguments.ts';
import { Refusal } from './command.ts';
import type { ShapesIn } from './own-shapes.ts';

/** A pseudo-terminal carries more, but no indicator or readout sends more. */
const FASTEST_PER_SECOND = 1000;
/** The protocol's own limit for the simulated table. */
const FASTEST_MM_PER_SECOND = 100;

export const SIMULATE_HELP = `taptrue simulate [options]

Puts a simulated indicator, readout or both on pseudo-terminals (Linux, macOS) and prints their paths. Any
program opens them as it opens a serial port. The vise, its bar and the table are simulated too: the table
traverses back and forth, so that whoever listens sees a sweep. Nothing that is simulated says so on the
wire: mark what you record from it.

  --device indicator|readout|both|none   what to put on a port of its own (indicator)
  --shape SHAPE            line shape the indicator speaks, or the readout if that is alone
                           (signed-decimal, axis-readout)
  --readout-shape SHAPE    line shape the readout speaks with --device both (axis-readout)
  --data FOLDER            where the shop’s own shapes are, in its folder shapes
  --unit in|mm             unit of both (in)
  --rate N                 readings a second (10)
  --seed N                 the same seed gives the same vise, blows and noise (1)
  --out-of-true LENGTH     end to end over the 5 in bar; positive: right end farther away
  --still                  the table stands at the left end until it is moved
  --traverse LENGTH/s      how fast the table goes (10mm/s)
  --link PATH              a name for the port that stays when it is unplugged and made again;
                           with both: PATH-indicator and PATH-readout
  --agent PORT             the table also as the X axis of a machine with an MTConnect agent, on this
                           computer; 0: any free port
  --modbus PORT            indicator and readout also as Modbus TCP units 1 and 2, on this computer;
                           0: any free port
  --modbus-rtu             the same two units on one serial line, a pseudo-terminal of its own;
                           with --link: PATH-modbus
                           Each unit has its number twice, in holding and input registers alike:
                           0 and 1 as a 32-bit count of 0.0001 mm or 0.00001 in, 2 and 3 as a float
  --seconds N              end by itself

While it runs, lines typed here work the bench; the bar lies from 0 to 127 mm, the left clamp at about -8 mm:
${BENCH_LINES_HELP}

Ends on quit, Ctrl-C or after --seconds. Exit codes: 0 done; 3 input refused, or this system has no
pseudo-terminals; the reason is on standard error.`;

const OPTIONS = {
  device: { type: 'string' },
  shape: { type: 'string' },
  'readout-shape': { type: 'string' },
  data: { type: 'string' },
  unit: { type: 'string' },
  rate: { type: 'string' },
  seed: { type: 'string' },
  'out-of-true': { type: 'string' },
  still: { type: 'boolean' },
  traverse: { type: 'string' },
  link: { type: 'string' },
  agent: { type: 'string' },
  modbus: { type: 'string' },
  'modbus-rtu': { type: 'boolean' },
  seconds: { type: 'string' },
} as const;

const DEVICES = ['indicator', 'readout', 'both', 'none'] as const;
const NAMES_OF: Readonly<Record<(typeof DEVICES)[number], readonly LinkName[]>> = {
  indicator: ['indicator'],
  readout: ['readout'],
  both: ['indicator', 'readout'],
  none: [],
};

export interface SimulateOptions {
  names: readonly LinkName[];
  shapes: Readonly<Record<LinkName, LineShape>>;
  unit: LengthUnit;
  readingsPerSecond: number;
  seed: number;
  outOfTrueMm: number | null;
  still: boolean;
  traverseMmPerSecond: number;
  link: string | null;
  /** Port of the agent; null: none. */
  agentPort: number | null;
  /** Port of the Modbus TCP units; null: none. */
  modbusPort: number | null;
  modbusRtu: boolean;
  seconds: number | null;
}

function numberIn(name: string, text: string | undefined, low: number, high: number) {
  if (text === undefined) return null;
  const parsed = parseNumber(text);
  if (parsed.ok && parsed.value >= low && parsed.value <= high) return parsed.value;
  throw new Refusal(`--${name} takes a number from ${low} to ${high}, got "${text}".`);
}

function portOf(name: string, text: string | undefined): number | null {
  if (text === undefined) return null;
  const port = Number(text);
  if (/^\d+$/.test(text) && port <= 65_535) return port;
  throw new Refusal(`--${name} takes a port number from 0 to 65535, got "${text}".`);
}

function oneOf<T extends string>(name: string, text: string, allowed: readonly T[]): T {
  const found = allowed.find((one) => one === text);
  if (found !== undefined) return found;
  throw new Refusal(`--${name} is one of ${allowed.join(', ')}; got "${text}".`);
}

function shapeOf(name: string, text: string, table: ShapeTable): LineShape {
  const shape = table.named(text);
  if (shape) return shape;
  const known = table.all.map((one) => one.name).join(', ');
  throw new Refusal(`--${name}: there is no line shape "${text}". Known: ${known}.`);
}

function speedOf(text: string): number {
  const length = text.endsWith('/s') ? parseLengthMm(text.slice(0, -2)) : null;
  if (length?.ok && length.value > 0 && length.value <= FASTEST_MM_PER_SECOND) return length.value;
  throw new Refusal(
    `--traverse takes a speed up to ${FASTEST_MM_PER_SECOND}mm/s, such as 10mm/s or 0.4in/s; got "${text}".`,
  );
}

function lengthOf(name: string, text: string | undefined): number | null {
  if (text === undefined) return null;
  const length = parseLengthMm(text);
  if (length.ok) return length.value;
  throw new Refusal(`--${name}: ${length.why}.`);
}

/** The options of `taptrue simulate`, checked. Throws Refusal. */
export function readSimulateOptions(
  args: string[],
  shapesIn: ShapesIn = () => SHIPPED,
): SimulateOptions {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 0) {
    throw new Refusal(`simulate takes options only, got "${positionals.join(' ')}".`);
  }
  const device = oneOf('device', values.device ?? 'indicator', DEVICES);
  const alone = values.shape;
  const table = shapesIn(values.data ?? null);
  if (device === 'none' && !values.agent && !values.modbus && !values['modbus-rtu']) {
    throw new Refusal(
      '--device none leaves nothing to connect to: give --agent, --modbus or --modbus-rtu with it.',
    );
  }
  if (values.still && values.traverse !== undefined) {
    throw new Refusal('--still and --traverse exclude each other: give one of them.');
  }
  return {
    names: NAMES_OF[device],
    shapes: {
      indicator: shapeOf('shape', (device !== 'readout' && alone) || 'signed-decimal', table),
      readout: shapeOf(
        device === 'readout' && alone ? 'shape' : 'readout-shape',
        (device === 'readout' && alone) || values['readout-shape'] || 'axis-readout',
        table,
      ),
    },
    unit: oneOf('unit', values.unit ?? 'in', ['in', 'mm']),
    readingsPerSecond: numberIn('rate', values.rate, 0.1, FASTEST_PER_SECOND) ?? 10,
    seed: numberIn('seed', values.seed, 0, 4_294_967_295) ?? 1,
    outOfTrueMm: lengthOf('out-of-true', values['out-of-true']),
    still: values.still ?? false,
    traverseMmPerSecond: speedOf(values.traverse ?? '10mm/s'),
    link: values.link === undefined ? null : resolve(values.link),
    agentPort: portOf('agent', values.agent),
    modbusPort: portOf('modbus', values.modbus),
    modbusRtu: values['modbus-rtu'] ?? false,
    seconds: numberIn('seconds', values.seconds, 0.1, 86_400),
  };
}
