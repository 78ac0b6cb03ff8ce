import type { LinkSource } from '@taptrue/protocol';
import { modbusRtuFromText, modbusTcpFromText } from './modbus/modbus-from-text.ts';
import { mtconnectFromText } from './mtconnect/mtconnect-from-text.ts';
import { hostFromText, type Read } from './pairs-from-text.ts';

/** Text that names no port, and why. */
export interface NoSource {
  kind: 'not a source';
  why: string;
}

/**
 * `tcp://host:port` is a socket, `modbus-tcp://`, `modbus-rtu:` and `mtconnect://` (`mtconnects://` over https) are what
 * they say;
 * everything else is the path or name of a serial port: `COM3`, `/dev/ttyUSB0`, a link under
 * `/dev/serial/by-id`. Whether it exists is found on opening.
 */
export function sourceFromText(text: string): LinkSource | NoSource {
  const named = text.trim();
  const refuse = (why: string): NoSource => ({ kind: 'not a source', why });
  if (named === '')
    return refuse('No port was named. Give a path like /dev/ttyUSB0 or COM3, or tcp://host:port.');
  if (named.length > 256) return refuse('The name of a port has at most 256 characters.');
  if (hasControls(named)) return refuse('The name of a port holds no control characters.');
  const line = /^modbus-rtu:(.*)$/i.exec(named);
  if (line) return sourceOf(modbusRtuFromText(line[1]!));
  const [, scheme, rest = ''] = /^([a-z][a-z0-9+.-]*):\/\/(.*)$/i.exec(named) ?? [];
  switch (scheme?.toLowerCase()) {
    case undefined:
      return { kind: 'serial', path: named, settings: null };
    case 'tcp':
      return tcpFromText(named, rest);
    case 'modbus-tcp':
      return sourceOf(modbusTcpFromText(rest));
    case 'mtconnect':
    case 'mtconnects':
      return sourceOf(mtconnectFromText(rest, scheme.toLowerCase() === 'mtconnects'));
    default:
      return refuse(
        `"${scheme}://" is not known. Use tcp://host:port, modbus-tcp://host, modbus-rtu:PORT, mtconnect://host/AXIS, or the path of a serial port.`,
      );
  }
}

function tcpFromText(named: string, rest: string): LinkSource | NoSource {
  const place = hostFromText(rest.replace(/\/$/, ''), null);
  if (place.ok) return { kind: 'tcp', ...place.value };
  const why = place.why.startsWith('The port number')
    ? `${place.why}.`
    : `"${named}" is not tcp://host:port, for example tcp://192.168.1.20:4001.`;
  return { kind: 'not a source', why };
}

function sourceOf(read: Read<LinkSource>): LinkSource | NoSource {
  return read.ok ? read.value : { kind: 'not a source', why: `${read.why}.` };
}

function hasControls(text: string): boolean {
  for (const character of text) if (character < ' ') return true;
  return false;
}
