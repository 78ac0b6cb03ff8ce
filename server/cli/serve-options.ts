import type { LinkConfig, LinkName, PortSettings } from '@taptrue/protocol';
import { SHAPES, shapeNamed } from '../shapes/shape-table.ts';
import { sourceFromText } from '../transport/source-from-text.ts';
import { readArguments } from './arguments.ts';
import { Refusal } from './command.ts';

/** Free in the lists of registered ports at the time of writing; change it with --port. */
export const USUAL_PORT = 4757;

export interface ServeOptions {
  port: number;
  /** true: listens on all addresses of this machine, not on loopback only. */
  listenToAll: boolean;
  name: string;
  dataFolder: string | null;
  demo: boolean;
  /** No device and no demo. */
  keyed: boolean;
  seed: number | null;
  connect: Partial<Record<LinkName, LinkConfig>>;
}

const OPTIONS = {
  port: { type: 'string' },
  listen: { type: 'boolean' },
  name: { type: 'string' },
  data: { type: 'string' },
  demo: { type: 'boolean' },
  seed: { type: 'string' },
  keyed: { type: 'boolean' },
  indicator: { type: 'string' },
  'indicator-shape': { type: 'string' },
  'indicator-unit': { type: 'string' },
  'indicator-channel': { type: 'string' },
  'indicator-baud': { type: 'string' },
  readout: { type: 'string' },
  'readout-shape': { type: 'string' },
  'readout-unit': { type: 'string' },
  'readout-channel': { type: 'string' },
  'readout-baud': { type: 'string' },
} as const;

const USUAL_SHAPE: Readonly<Record<LinkName, string>> = {
  indicator: 'signed-decimal',
  readout: 'axis-readout',
};

type Values = Partial<Record<keyof typeof OPTIONS, string | boolean>>;

function wholeNumber(option: string, text: string, least: number, most: number): number {
  const value = Number(text);
  if (!/^\d+$/.test(text) || value < least || value > most) {
    throw new Refusal(`--${option} takes a whole number from ${least} to ${most}; got ${text}.`);
  }
  return value;
}

function linkConfig(name: LinkName, values: Values): LinkConfig | null {
  const port = values[name];
  if (typeof port !== 'string') {
    const stray = (['shape', 'unit', 'channel', 'baud'] as const).find(
      (part) => values[`${name}-${part}`] !== undefined,
    );
    if (stray) throw new Refusal(`--${name}-${stray} needs --${name} PORT as well.`);
    return null;
  }
  const source = sourceFromText(port);
  if (source.kind === 'not a source') throw new Refusal(`--${name}: ${source.why}`);
  const shapeName = String(values[`${name}-shape`] ?? USUAL_SHAPE[name]);
  const shape = shapeNamed(shapeName);
  if (!shape) {
    throw new Refusal(
      `--${name}-shape: there is no line shape "${shapeName}". Known: ${SHAPES.map((known) => known.name).join(', ')}.`,
    );
  }
  const unit = String(values[`${name}-unit`] ?? 'as sent');
  if (unit !== 'mm' && unit !== 'in' && unit !== 'as sent' && unit !== 'as-sent') {
    throw new Refusal(`--${name}-unit takes mm, in or as-sent; got ${unit}.`);
  }
  const baud = values[`${name}-baud`];
  const settings: PortSettings | null =
    typeof baud === 'string'
      ? { ...shape.port, baudRate: wholeNumber(`${name}-baud`, baud, 110, 4_000_000) }
      : null;
  const channel = values[`${name}-channel`];
  return {
    source: source.kind === 'serial' ? { ...source, settings } : source,
    shape: shapeName,
    unit: unit === 'as-sent' ? 'as sent' : unit,
    channel: typeof channel === 'string' ? channel : null,
  };
}

/** Options of `serve`, checked. The demo runs where it is asked for, or where no device is named and none remembered. */
export function readServeOptions(args: string[]): ServeOptions {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 0) {
    throw new Refusal(
      `"${positionals[0]}" is not an option of serve; a port is given as --indicator PORT.`,
    );
  }
  const connect: ServeOptions['connect'] = {};
  for (const name of ['indicator', 'readout'] as const) {
    const config = linkConfig(name, values);
    if (config) connect[name] = config;
  }
  if (values.demo && values.keyed) {
    throw new Refusal('--demo and --keyed exclude each other: readings are simulated or typed in.');
  }
  if (values.demo && Object.keys(connect).length > 0) {
    throw new Refusal(
      '--demo has simulated devices of its own; leave out --indicator and --readout, or --demo.',
    );
  }
  return {
    port: values.port === undefined ? USUAL_PORT : wholeNumber('port', values.port, 0, 65_535),
    listenToAll: values.listen ?? false,
    name: values.name ?? 'bench',
    dataFolder: values.data ?? null,
    demo: values.demo ?? false,
    seed: values.seed === undefined ? null : wholeNumber('seed', values.seed, 0, 2 ** 31 - 1),
    connect,
    keyed: values.keyed ?? false,
  };
}
