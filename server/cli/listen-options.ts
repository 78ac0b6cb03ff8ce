import {
  hasLines,
  type LineShape,
  type LinkConfig,
  type LinkSource,
  type PortSettings,
} from '@taptrue/protocol';
import { SHIPPED, type ShapeTable } from '../devices/formats/shape-table.ts';
import { MODBUS_PORT } from '../devices/transport/modbus/usual-port.ts';
import { sourceFromText } from '../devices/transport/source-from-text.ts';
import { readArguments } from './arguments.ts';
import { Refusal } from './command.ts';
import { ownFormConfig } from './own-form-config.ts';
import type { ShapesIn } from './own-shapes.ts';

/** What `taptrue listen` was told. */
export interface ListenOptions {
  config: LinkConfig;
  /** null where the source has no lines. */
  shape: LineShape | null;
  /** null: until it is interrupted. */
  seconds: number | null;
  json: boolean;
}

const OPTIONS = {
  port: { type: 'string' },
  shape: { type: 'string' },
  data: { type: 'string' },
  unit: { type: 'string' },
  channel: { type: 'string' },
  second: { type: 'string' },
  baud: { type: 'string' },
  'data-bits': { type: 'string' },
  parity: { type: 'string' },
  'stop-bits': { type: 'string' },
  dtr: { type: 'string' },
  rts: { type: 'string' },
  seconds: { type: 'string' },
  json: { type: 'boolean' },
} as const;

const UNITS: Readonly<Record<string, LinkConfig['unit']>> = {
  mm: 'mm',
  in: 'in',
  'as-sent': 'as sent',
};

/** Reads the arguments; whatever does not fit is refused with the option's name and what it takes. */
export function readListenOptions(
  args: string[],
  shapesIn: ShapesIn = () => SHIPPED,
): ListenOptions {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 0) {
    throw new Refusal(`"${positionals[0]}" is not expected. Name the port with --port.`);
  }
  const unit = UNITS[values.unit ?? 'as-sent'];
  if (unit === undefined)
    throw new Refusal(`--unit is "${values.unit}"; it takes mm, in or as-sent.`);
  const source = sourceFrom(values.port);
  const until = {
    seconds: values.seconds === undefined ? null : secondsFrom(values.seconds),
    json: values.json === true,
  };
  const { second } = values;
  if (second !== undefined && (second === '' || second.length > 64)) {
    throw new Refusal('--second takes one to 64 characters.');
  }
  if (!hasLines(source)) {
    const settings = settingsFrom(values, MODBUS_PORT.port);
    const lines = linesFrom(values, MODBUS_PORT.signals);
    const { shape, channel } = values;
    const said = { unit, shape, channel, second };
    return {
      config: ownFormConfig(withLines(withSettings(source, settings), lines), said, '--'),
      shape: null,
      ...until,
    };
  }
  const shape = shapeFrom(values.shape, shapesIn(values.data ?? null));
  if (values.channel !== undefined && (values.channel === '' || values.channel.length > 8)) {
    throw new Refusal('--channel takes one to eight characters.');
  }
  return {
    config: {
      source: withLines(
        withSettings(source, settingsFrom(values, shape.port)),
        linesFrom(values, shape.signals),
      ),
      shape: shape.name,
      unit,
      channel: values.channel ?? null,
      ...(second === undefined ? {} : { secondChannel: second }),
    },
    shape,
    ...until,
  };
}

function shapeFrom(name: string | undefined, table: ShapeTable): LineShape {
  const known = table.all.map((shape) => shape.name).join(', ');
  if (name === undefined) throw new Refusal(`--shape is missing. Known shapes: ${known}.`);
  const shape = table.named(name);
  if (shape === null)
    throw new Refusal(`There is no line shape "${name}". Known shapes: ${known}.`);
  return shape;
}

function sourceFrom(text: string | undefined): LinkSource {
  if (text === undefined) {
    throw new Refusal('--port is missing. Give a path, a name like COM3, or tcp://host:port.');
  }
  const source = sourceFromText(text);
  if (source.kind === 'not a source') throw new Refusal(source.why);
  return source;
}

function withSettings<S extends LinkSource>(source: S, settings: PortSettings | null): S {
  if (settings === null) return source;
  if (source.kind === 'serial' || source.kind === 'modbus rtu') return { ...source, settings };
  throw new Refusal('--baud, --data-bits, --parity and --stop-bits are for serial ports only.');
}

type Lines = LineShape['signals'];

function withLines<S extends LinkSource>(source: S, lines: Lines | null): S {
  if (lines === null) return source;
  if (source.kind === 'serial' || source.kind === 'modbus rtu') return { ...source, lines };
  throw new Refusal('--dtr and --rts are for serial ports only.');
}

/** null where nothing was set: the shape's own levels then hold. */
function linesFrom(
  { dtr, rts }: { dtr?: string | undefined; rts?: string | undefined },
  usual: Lines,
): Lines | null {
  if (dtr === undefined && rts === undefined) return null;
  const levels = { up: true, down: false } as const;
  return {
    dtr: oneOf('--dtr', dtr, levels, usual.dtr),
    rts: oneOf('--rts', rts, levels, usual.rts),
  };
}

type SettingTexts = {
  baud?: string | undefined;
  'data-bits'?: string | undefined;
  parity?: string | undefined;
  'stop-bits'?: string | undefined;
};

/** null where nothing was set: the shape's own settings then hold. */
function settingsFrom(texts: SettingTexts, usual: PortSettings): PortSettings | null {
  const { baud, parity, 'data-bits': dataBits, 'stop-bits': stopBits } = texts;
  if ([baud, parity, dataBits, stopBits].every((text) => text === undefined)) return null;
  const baudRate = baud === undefined ? usual.baudRate : Number(baud);
  if (!Number.isInteger(baudRate) || baudRate < 110 || baudRate > 4_000_000) {
    throw new Refusal(`--baud is "${baud}"; it takes a whole number from 110 to 4000000.`);
  }
  return {
    baudRate,
    dataBits: oneOf('--data-bits', dataBits, { 7: 7, 8: 8 } as const, usual.dataBits),
    parity: oneOf(
      '--parity',
      parity,
      { none: 'none', even: 'even', odd: 'odd' } as const,
      usual.parity,
    ),
    stopBits: oneOf('--stop-bits', stopBits, { 1: 1, 2: 2 } as const, usual.stopBits),
  };
}

function oneOf<T>(
  option: string,
  text: string | undefined,
  known: Readonly<Record<string, T>>,
  usual: T,
): T {
  if (text === undefined) return usual;
  const found = Object.hasOwn(known, text) ? known[text] : undefined;
  if (found === undefined) {
    throw new Refusal(`${option} is "${text}"; it takes ${Object.keys(known).join(' or ')}.`);
  }
  return found;
}

function secondsFrom(text: string): number {
  const seconds = Number(text);
  if (text.trim() === '' || !Number.isFinite(seconds) || seconds <= 0 || seconds > 86_400) {
    throw new Refusal(`--seconds is "${text}"; it takes a number above 0, at most 86400.`);
  }
  return seconds;
}
