import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { Fault } from '../faults/fault.ts';
import { LengthUnit } from '../quantity/units.ts';
import { PortSettings } from './line-shape.ts';
import { RegisterRead } from './register-read.ts';

export const LinkName = Type.Union([Type.Literal('indicator'), Type.Literal('readout')]);
export type LinkName = Type.Static<typeof LinkName>;

/** A port of this computer, with its settings; null: as usual for what is read over it. */
const serialPort = {
  path: Type.String({ minLength: 1, maxLength: 256 }),
  settings: Nullable(PortSettings),
  identity: Type.Optional(
    Type.String({
      minLength: 1,
      maxLength: 256,
      description:
        'Which device is meant, whatever its port is called today; as PortDescription names it. Left out: the port of that name',
    }),
  ),
  lines: Type.Optional(
    Type.Object(
      { dtr: Type.Boolean(), rts: Type.Boolean() },
      {
        ...closed,
        description: 'Levels of DTR and RTS once open. Left out: as the line shape says',
      },
    ),
  ),
};

const networkPort = {
  host: Type.String({ minLength: 1, maxLength: 253 }),
  port: Type.Integer({ minimum: 1, maximum: 65535 }),
};

export const LinkSource = Type.Union([
  Type.Object({ kind: Type.Literal('serial'), ...serialPort }, closed),
  Type.Object({ kind: Type.Literal('tcp'), ...networkPort }, closed),
  Type.Object({ kind: Type.Literal('modbus rtu'), ...serialPort, read: RegisterRead }, closed),
  Type.Object({ kind: Type.Literal('modbus tcp'), ...networkPort, read: RegisterRead }, closed),
  Type.Object(
    {
      kind: Type.Literal('mtconnect'),
      ...networkPort,
      path: Type.String({
        maxLength: 200,
        description: 'Before the request: empty, or the device as the agent names it, /mill-1',
      }),
      item: Type.String({
        minLength: 1,
        maxLength: 100,
        description: 'Id or name of the data item, or name of the axis: the position is meant',
      }),
      secure: Type.Optional(Type.Boolean({ description: 'Over https; left out: over http' })),
      way: Type.Union([Type.Literal('stream'), Type.Literal('poll')], {
        description: 'Sent by the agent as it changes, or asked for again and again',
      }),
      everyMs: Type.Integer({ minimum: 20, maximum: 10_000 }),
    },
    closed,
  ),
  Type.Object({ kind: Type.Literal('simulated'), device: LinkName }, closed),
]);
export type LinkSource = Type.Static<typeof LinkSource>;

/** Sources whose bytes are cut into readings by a line shape; the others have a form of their own. */
export type LineBytesSource = Extract<LinkSource, { kind: 'serial' | 'tcp' | 'simulated' }>;

export function hasLines(source: LinkSource): source is LineBytesSource {
  return source.kind === 'serial' || source.kind === 'tcp' || source.kind === 'simulated';
}

/** What a link is told: where the bytes come from, what they look like, and which of them is meant. */
export const LinkConfig = Type.Object(
  {
    source: LinkSource,
    shape: Type.String({
      maxLength: 40,
      description: 'Name of the line shape; empty where the source has no lines',
    }),
    unit: Type.Union([LengthUnit, Type.Literal('as sent')], {
      description:
        'Unit of the number where the line carries none. A line that carries another unit is refused, never converted in silence',
    }),
    channel: Nullable(
      Type.String({
        maxLength: 8,
        description: 'Channel or axis tag to listen to; null: the first seen',
      }),
    ),
    secondChannel: Type.Optional(
      Type.String({
        minLength: 1,
        maxLength: 64,
        description:
          'Another axis of the same device, given beside the first: a tag of the line, a register address, or a data item',
      }),
    ),
  },
  closed,
);
export type LinkConfig = Type.Static<typeof LinkConfig>;

/**
 * not set: no source. opening: being opened. live: whole readings arrive. waiting for its key: open, and the
 * device sends only when its key is pressed. silent: open, nothing arrives. not understood: bytes arrive, no
 * reading. lost: it was open and is gone; coming back is tried. refused: it may not or cannot be opened.
 */
export const LinkState = Type.Union([
  Type.Literal('not set'),
  Type.Literal('opening'),
  Type.Literal('live'),
  Type.Literal('waiting for its key'),
  Type.Literal('silent'),
  Type.Literal('not understood'),
  Type.Literal('lost'),
  Type.Literal('refused'),
]);
export type LinkState = Type.Static<typeof LinkState>;

export const LinkCounters = Type.Object(
  {
    bytes: Type.Integer(),
    frames: Type.Integer({ description: 'Whole frames understood' }),
    framesNotUnderstood: Type.Integer(),
    framesTooLong: Type.Integer(),
    partialFramesDropped: Type.Integer({
      description: 'First piece after opening, tail at closing',
    }),
    reconnects: Type.Integer(),
    otherChannel: Type.Integer({ description: 'Readings of a channel not listened to' }),
    unitRefused: Type.Integer(),
    unanswered: Type.Integer({ description: 'Requests without an answer in time' }),
    saidNo: Type.Integer({ description: 'Answers in which the device refused, with a reason' }),
    resyncs: Type.Integer({
      description:
        'Times readings came again after something else, or the thread of a stream (a gap, a restart) was taken up again',
    }),
  },
  closed,
);
export type LinkCounters = Type.Static<typeof LinkCounters>;

export function zeroCounters(): LinkCounters {
  return {
    bytes: 0,
    frames: 0,
    framesNotUnderstood: 0,
    framesTooLong: 0,
    partialFramesDropped: 0,
    reconnects: 0,
    otherChannel: 0,
    unitRefused: 0,
    unanswered: 0,
    saidNo: 0,
    resyncs: 0,
  };
}

/** What came last and how evenly it comes: for the eye of someone who looks for what is wrong. */
export const LineView = Type.Object(
  {
    rows: Type.Array(
      Type.Object(
        {
          text: Type.String({ description: 'As it came, control bytes escaped' }),
          hex: Type.String({ description: 'The same bytes; empty where it is no line of bytes' }),
          understood: Type.String({ description: 'Empty: not understood' }),
        },
        closed,
      ),
      { maxItems: 6, description: 'The last at the end' },
    ),
    bytes: Type.Object(
      { text: Type.String(), hex: Type.String() },
      {
        ...closed,
        description: 'The last bytes with their line ends; empty where it is no line of bytes',
      },
    ),
    usualGapMs: Nullable(
      Type.Number({ description: 'Middle one of the last gaps between readings' }),
    ),
    jitterMs: Nullable(
      Type.Number({ description: 'How far a gap lay from the usual one, at most' }),
    ),
    sinceLastMs: Nullable(
      Type.Number({ description: 'Age of the last reading; null: none since it was opened' }),
    ),
  },
  closed,
);
export type LineView = Type.Static<typeof LineView>;

export const LinkReport = Type.Object(
  {
    state: LinkState,
    config: Nullable(LinkConfig),
    simulated: Type.Boolean(),
    trigger: Nullable(
      Type.Union([Type.Literal('streams'), Type.Literal('asked'), Type.Literal('its own key')]),
    ),
    readingsPerSecond: Type.Number({ minimum: 0 }),
    lastText: Type.String({ description: 'Last frame as it came, control bytes escaped' }),
    counters: LinkCounters,
    fault: Nullable(Fault),
    line: Type.Optional(LineView),
  },
  closed,
);
export type LinkReport = Type.Static<typeof LinkReport>;

export const PortDescription = Type.Object(
  {
    path: Type.String(),
    identity: Type.String({
      description:
        'Stable name: usb:vendor:product:serial, else the by-id or by-path link, else the USB socket; the path where nothing better is known',
    }),
    title: Type.String(),
    knownBy: Type.Union(
      [
        Type.Literal('serial number'),
        Type.Literal('name by id'),
        Type.Literal('socket'),
        Type.Literal('port name'),
      ],
      {
        description:
          'What the identity rests on. By its socket a device is the same only while it stays in that socket; by its port name alone it cannot be told from another',
      },
    ),
  },
  closed,
);
export type PortDescription = Type.Static<typeof PortDescription>;

/** One port as the bench knows it now. */
export const PortRow = Type.Object(
  {
    ...PortDescription.properties,
    usedBy: Nullable(LinkName),
    hindrance: Nullable(Fault),
  },
  { ...closed, description: 'hindrance: why it could not be opened if it were asked for now' },
);
export type PortRow = Type.Static<typeof PortRow>;

/** Ports of this computer, kept up to date by the service: nothing needs to be asked again. */
export const PortsSection = Type.Object(
  {
    ports: Type.Array(PortRow, { maxItems: 64 }),
    leftOut: Type.Integer({ minimum: 0, description: 'Ports beyond the 64 that are listed' }),
    watched: Type.Boolean({ description: 'False until the first look' }),
  },
  closed,
);
export type PortsSection = Type.Static<typeof PortsSection>;
