import type { LinkConfig, Parsed, PortSettings } from '@taptrue/protocol';

export interface TypedLink {
  source: string;
  shape: string;
  unit: LinkConfig['unit'];
  channel: string;
  /** Another axis of the readout; empty or left out: none. */
  secondChannel?: string;
  /** Empty: as the lines usually have it. */
  baud?: string;
  framing?: Framing | '';
}

/** Met on such devices: data bits, parity, stop bits. */
export const FRAMINGS = ['8N1', '7E1', '7E2', '8E1', '7O1', '8N2'] as const;
export type Framing = (typeof FRAMINGS)[number];

const PARITY = { N: 'none', E: 'even', O: 'odd' } as const;
/** What is set where only the other of speed and framing was typed: by far the commonest. */
const USUAL_BAUD = 9600;
const USUAL_FRAMING: Framing = '8N1';

const HOST_AND_PORT = /^(?:tcp:\/\/)?([a-z0-9.-]+|\[[0-9a-f:]+\]):(\d{1,5})$/i;
/** An address without its port number would be looked for among the serial ports. */
const ADDRESS_ALONE = /^(?:tcp:\/\/.*|\d{1,3}(?:\.\d{1,3}){3}:?)$/i;

/**
 * What was chosen and typed, as a link is told it. `name:number`, also with `tcp://` before it as faults write
 * it, is a serial device server on the network;
 * everything else is the path or name of a port, settings as the line shape has them.
 */
export function linkConfigOf(typed: TypedLink): Parsed<LinkConfig> {
  const source = typed.source.trim();
  if (source === '') return { ok: false, why: 'Choose a port from the list, or type one.' };
  if (typed.shape === '') return { ok: false, why: 'Choose what the lines look like.' };
  const rest = {
    shape: typed.shape,
    unit: typed.unit,
    channel: typed.channel.trim() === '' ? null : typed.channel.trim(),
    ...(typed.secondChannel?.trim() && { secondChannel: typed.secondChannel.trim() }),
  };
  const match = HOST_AND_PORT.exec(source);
  if (match === null && ADDRESS_ALONE.test(source)) {
    return {
      ok: false,
      why: `"${source}" is an address without a port number. Add it behind a colon: 192.168.1.20:4001. It stands in the settings of the serial device server.`,
    };
  }
  if (match === null) {
    const settings = settingsOf(typed.baud?.trim() ?? '', typed.framing ?? '');
    if (!settings.ok) return settings;
    return {
      ok: true,
      value: { source: { kind: 'serial', path: source, settings: settings.value }, ...rest },
    };
  }
  const port = Number(match[2]);
  if (port < 1 || port > 65535) {
    return { ok: false, why: `${port} is not a network port; 1 to 65535 are.` };
  }
  const host = match[1]!.replace(/^\[|\]$/g, '');
  return { ok: true, value: { source: { kind: 'tcp', host, port }, ...rest } };
}

function settingsOf(baud: string, framing: Framing | ''): Parsed<PortSettings | null> {
  if (baud === '' && framing === '') return { ok: true, value: null };
  const baudRate = baud === '' ? USUAL_BAUD : Number(baud);
  if (!/^\d*$/.test(baud) || baudRate < 110 || baudRate > 4_000_000) {
    return { ok: false, why: `The speed is a whole number from 110 to 4000000, not "${baud}".` };
  }
  const [dataBits, parity, stopBits] = framing || USUAL_FRAMING;
  return {
    ok: true,
    value: {
      baudRate,
      dataBits: dataBits === '7' ? 7 : 8,
      parity: PARITY[parity as keyof typeof PARITY],
      stopBits: stopBits === '2' ? 2 : 1,
    },
  };
}
