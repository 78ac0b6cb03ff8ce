import {
  type Fault,
  hasLines,
  type LinkConfig,
  type LinkName,
  type PortSettings,
  type Settings,
} from '@taptrue/protocol';
import { SHIPPED, type ShapeTable } from '../devices/formats/shape-table.ts';
import { MODBUS_PORT } from '../devices/transport/modbus/usual-port.ts';
import { sourceFromText } from '../devices/transport/source-from-text.ts';
import { type Given, type Merged, mergeSettings } from '../service/settings/merge-settings.ts';
import { readArguments } from './arguments.ts';
import { Refusal } from './command.ts';
import { ownFormConfig } from './own-form-config.ts';

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
  /** What was said, and where. */
  merged: Merged;
  /** What of the settings file could not be used. */
  faults: Fault[];
}

const OPTIONS = {
  port: { type: 'string' },
  listen: { type: 'boolean' },
  name: { type: 'string' },
  data: { type: 'string' },
  settings: { type: 'string' },
  demo: { type: 'boolean' },
  seed: { type: 'string' },
  keyed: { type: 'boolean' },
  indicator: { type: 'string' },
  'indicator-shape': { type: 'string' },
  'indicator-unit': { type: 'string' },
  'indicator-channel': { type: 'string' },
  'indicator-second': { type: 'string' },
  'indicator-baud': { type: 'string' },
  readout: { type: 'string' },
  'readout-shape': { type: 'string' },
  'readout-unit': { type: 'string' },
  'readout-channel': { type: 'string' },
  'readout-second': { type: 'string' },
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

function linkConfig(name: LinkName, values: Values, table: ShapeTable): LinkConfig | null {
  const port = values[name];
  if (typeof port !== 'string') {
    const stray = (['shape', 'unit', 'channel', 'second', 'baud'] as const).find(
      (part) => values[`${name}-${part}`] !== undefined,
    );
    if (stray) throw new Refusal(`--${name}-${stray} needs --${name} PORT as well.`);
    return null;
  }
  const source = sourceFromText(port);
  if (source.kind === 'not a source') throw new Refusal(`--${name}: ${source.why}`);
  const unit = unitFrom(name, values[`${name}-unit`]);
  const baudRate = baudFrom(name, values[`${name}-baud`]);
  const channel = textOf(values[`${name}-channel`]);
  const second = textOf(values[`${name}-second`]);
  if (!hasLines(source)) {
    const said = { unit, channel, second, shape: textOf(values[`${name}-shape`]) };
    return ownFormConfig(withSpeed(source, MODBUS_PORT.port, baudRate), said, `--${name}-`);
  }
  const shapeName = String(values[`${name}-shape`] ?? USUAL_SHAPE[name]);
  const shape = table.named(shapeName);
  if (!shape) {
    throw new Refusal(
      `--${name}-shape: there is no line shape "${shapeName}". Known: ${table.all.map((known) => known.name).join(', ')}.`,
    );
  }
  return {
    source: withSpeed(source, shape.port, baudRate),
    shape: shapeName,
    unit,
    channel: channel ?? null,
    ...(second === undefined ? {} : { secondChannel: second }),
  };
}

function textOf(value: string | boolean | undefined): string | undefined {
  return typeof value === 'string' ? value : undefined;
}

function unitFrom(name: LinkName, said: string | boolean | undefined): LinkConfig['unit'] {
  const unit = String(said ?? 'as sent');
  if (unit !== 'mm' && unit !== 'in' && unit !== 'as sent' && unit !== 'as-sent') {
    throw new Refusal(`--${name}-unit takes mm, in or as-sent; got ${unit}.`);
  }
  return unit === 'as-sent' ? 'as sent' : unit;
}

function baudFrom(name: LinkName, said: string | boolean | undefined): number | null {
  return typeof said === 'string' ? wholeNumber(`${name}-baud`, said, 110, 4_000_000) : null;
}

/** Of a source without a serial port the speed says nothing; settings said in the source stay but for it. */
function withSpeed<S extends LinkConfig['source']>(
  source: S,
  usual: PortSettings,
  baudRate: number | null,
): S {
  if (source.kind !== 'serial' && source.kind !== 'modbus rtu') return source;
  if (baudRate === null) return source;
  return { ...source, settings: { ...(source.settings ?? usual), baudRate } };
}

/** What the command line says, unchecked; data folder and settings file must be known before the rest. */
export function readServeArguments(args: string[]): {
  values: Values;
  dataFolder: string | null;
  settingsFile: string | null;
} {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 0) {
    throw new Refusal(
      `"${positionals[0]}" is not an option of serve; a port is given as --indicator PORT.`,
    );
  }
  return { values, dataFolder: values.data ?? null, settingsFile: values.settings ?? null };
}

/**
 * Options of `serve`, checked: command line over environment over settings file. What is wrong in the first
 * two is refused; what is wrong in the file is a fault, and the usual holds. The demo runs where it is asked
 * for, or where no device is named and none remembered.
 */
export function readServeOptions(
  args: string[],
  given: { environment?: Given; file?: Settings; table?: ShapeTable } = {},
): ServeOptions {
  const { values: said, dataFolder } = readServeArguments(args);
  const { data: _data, settings: _settings, seed, ...commandLine } = said;
  refuseContradictions(commandLine);
  const merged = mergeSettings(commandLine, given.environment ?? {}, given.file ?? {});
  const { values } = merged;
  const faults: Fault[] = [];
  const connect: ServeOptions['connect'] = {};
  for (const name of ['indicator', 'readout'] as const) {
    try {
      const config = linkConfig(name, values, given.table ?? SHIPPED);
      if (config) connect[name] = config;
    } catch (error) {
      if (!(error instanceof Refusal) || merged.from[name] !== 'settings file') throw error;
      faults.push(deviceNotUsed(name, error.message));
    }
  }
  return {
    port:
      values.port === undefined ? USUAL_PORT : wholeNumber('port', String(values.port), 0, 65_535),
    listenToAll: values.listen === true,
    name: benchName(String(values.name ?? 'bench')),
    dataFolder,
    demo: values.demo === true,
    seed: seed === undefined ? null : wholeNumber('seed', String(seed), 0, 2 ** 31 - 1),
    connect,
    keyed: values.keyed === true,
    merged,
    faults,
  };
}

/** As long as the settings file allows. */
const LONGEST_NAME = 60;

function benchName(text: string): string {
  if (text.trim() !== '' && text.length <= LONGEST_NAME) return text;
  throw new Refusal(
    `--name takes 1 to ${LONGEST_NAME} characters, such as "mill by the window"; got ${text.length > LONGEST_NAME ? text.length : 'none'}.`,
  );
}

function refuseContradictions(values: Values): void {
  if (values.demo && values.keyed) {
    throw new Refusal('--demo and --keyed exclude each other: readings are simulated or typed in.');
  }
  if (values.demo && (values.indicator !== undefined || values.readout !== undefined)) {
    throw new Refusal(
      '--demo has simulated devices of its own; leave out --indicator and --readout, or --demo.',
    );
  }
}

function deviceNotUsed(name: LinkName, why: string): Fault {
  return {
    code: 'settings-not-read',
    what: `The ${name} of the settings file could not be used; it is not connected.`,
    got: why,
    remedy: `Put it right in the file, or connect the ${name} under Devices.`,
  };
}
