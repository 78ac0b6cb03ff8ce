import type { LinkSource } from '@taptrue/protocol';

/** Text that names no port, and why. */
export interface NoSource {
  kind: 'not a source';
  why: string;
}

/**
 * `tcp://host:port` is a socket; everything else is the path or name of a serial port: `COM3`,
 * `/dev/ttyUSB0`, a link under `/dev/serial/by-id`. Whether it exists is found on opening.
 */
export function sourceFromText(text: string): LinkSource | NoSource {
  const named = text.trim();
  const refuse = (why: string): NoSource => ({ kind: 'not a source', why });
  if (named === '')
    return refuse('No port was named. Give a path like /dev/ttyUSB0 or COM3, or tcp://host:port.');
  if (named.length > 256) return refuse('The name of a port has at most 256 characters.');
  const scheme = /^([a-z][a-z0-9+.-]*):\/\//i.exec(named)?.[1]?.toLowerCase();
  if (scheme === undefined) {
    if (hasControls(named)) return refuse('The name of a port holds no control characters.');
    return { kind: 'serial', path: named, settings: null };
  }
  if (scheme !== 'tcp') {
    return refuse(
      `"${scheme}://" is not known. Use tcp://host:port, or the path of a serial port.`,
    );
  }
  const parts = /^tcp:\/\/(?:\[([0-9a-f:.%a-z]+)\]|([^\s:/[\]]+)):(\d{1,5})\/?$/i.exec(named);
  const host = parts?.[1] ?? parts?.[2];
  const port = Number(parts?.[3]);
  if (host === undefined || host.length > 253) {
    return refuse(`"${named}" is not tcp://host:port, for example tcp://192.168.1.20:4001.`);
  }
  if (port < 1 || port > 65535)
    return refuse(`The port number is ${parts?.[3]}; it must be 1 to 65535.`);
  return { kind: 'tcp', host, port };
}

function hasControls(text: string): boolean {
  for (const character of text) if (character < ' ') return true;
  return false;
}
