import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { Fault } from '../faults/fault.ts';
import { LengthUnit } from '../quantity/units.ts';

const device = (name: string) => ({
  [name]: Type.Optional(
    Type.String({
      minLength: 1,
      maxLength: 256,
      description: `Port of the ${name}: COM3, /dev/ttyUSB0, an identity as taptrue ports lists it, tcp://host:port, modbus-tcp://host, modbus-rtu:PORT or mtconnect://host/AXIS`,
    }),
  ),
  [`${name}-shape`]: Type.Optional(
    Type.String({ minLength: 1, maxLength: 40, description: `Line shape of the ${name}` }),
  ),
  [`${name}-unit`]: Type.Optional(
    Type.Union([LengthUnit, Type.Literal('as-sent')], {
      description: `Unit of the ${name}’s number where its line carries none`,
    }),
  ),
  [`${name}-channel`]: Type.Optional(
    Type.String({ minLength: 1, maxLength: 8, description: `Channel or axis of the ${name}` }),
  ),
  [`${name}-second`]: Type.Optional(
    Type.String({
      minLength: 1,
      maxLength: 64,
      description: `Another axis of the ${name}, read beside the first: a channel, a register, a data item`,
    }),
  ),
  [`${name}-baud`]: Type.Optional(
    Type.Integer({
      minimum: 110,
      maximum: 4_000_000,
      description: `Speed of the ${name}, where it is not the shape’s usual one`,
    }),
  ),
});

/**
 * The settings file: one JSON object, every name optional. The same names are options of `taptrue serve`
 * (`--port`) and variables of the environment (`TAPTRUE_PORT`).
 */
export const Settings = Type.Object(
  {
    $schema: Type.Optional(Type.String({ description: 'For editors; not read' })),
    port: Type.Optional(
      Type.Integer({
        minimum: 0,
        maximum: 65_535,
        description: 'Port of the page; 0: any free one',
      }),
    ),
    listen: Type.Optional(
      Type.Boolean({
        description: 'Reachable from tablets on this network, not from this computer only',
      }),
    ),
    name: Type.Optional(
      Type.String({
        minLength: 1,
        maxLength: 60,
        description: 'Name of the bench; each has a memory of its own',
      }),
    ),
    keyed: Type.Optional(
      Type.Boolean({ description: 'No device and no demo: readings are typed in' }),
    ),
    demo: Type.Optional(Type.Boolean({ description: 'Simulated devices, marked SIMULATED' })),
    ...device('indicator'),
    ...device('readout'),
  },
  { ...closed, title: 'Settings of a Taptrue bench' },
);
export type Settings = Record<string, string | number | boolean | undefined>;

/** Ranks from the strongest down. */
export const SettingOrigin = Type.Union([
  Type.Literal('command line'),
  Type.Literal('environment'),
  Type.Literal('settings file'),
  Type.Literal('default'),
]);
export type SettingOrigin = Type.Static<typeof SettingOrigin>;

export const SettingRow = Type.Object(
  {
    name: Type.String(),
    value: Type.String({ description: 'Empty: not set' }),
    from: SettingOrigin,
    what: Type.String(),
    variable: Type.String({ description: 'Variable of the environment that sets it' }),
  },
  closed,
);
export type SettingRow = Type.Static<typeof SettingRow>;

/** What this service was started with, and where each value came from. */
export const SettingsSection = Type.Object(
  {
    file: Type.String({ description: 'The settings file, whether it exists or not' }),
    fileRead: Type.Boolean(),
    rows: Type.Array(SettingRow, { maxItems: 40 }),
    fault: Nullable(Fault),
  },
  closed,
);
export type SettingsSection = Type.Static<typeof SettingsSection>;
