import type { LinkConfig, Parsed } from '@taptrue/protocol';

export interface TypedLink {
  source: string;
  shape: string;
  unit: LinkConfig['unit'];
  channel: string;
}

const HOST_AND_PORT = /^([a-z0-9.-]+|\[[0-9a-f:]+\]):(\d{1,5})$/i;

/**
 * What was chosen and typed, as a link is told it. `name:number` is a serial device server on the network;
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
  };
  const match = HOST_AND_PORT.exec(source);
  if (match === null) {
    return {
      ok: true,
      value: { source: { kind: 'serial', path: source, settings: null }, ...rest },
    };
  }
  const port = Number(match[2]);
  if (port < 1 || port > 65535) {
    return { ok: false, why: `${port} is not a network port; 1 to 65535 are.` };
  }
  const host = match[1]!.replace(/^\[|\]$/g, '');
  return { ok: true, value: { source: { kind: 'tcp', host, port }, ...rest } };
}
