import type { Fault, LinkSource, PortDescription } from '@taptrue/protocol';
import { identityWords } from './port-identity.ts';

export type SerialSource = Extract<LinkSource, { kind: 'serial' }>;

export type WhichPort = { kind: 'open'; path: string } | { kind: 'refused'; fault: Fault };

/**
 * Where the device that is meant can be opened now. One that came back under another name is found there;
 * another one under the old name is refused, because its readings would be taken for those of the first.
 * Without an identity the name is all there is, and it is opened. Pure.
 */
export function whichPort(source: SerialSource, ports: readonly PortDescription[]): WhichPort {
  const { identity, path } = source;
  if (identity === undefined) {
    return { kind: 'open', path: ports.find((port) => port.identity === path)?.path ?? path };
  }
  const same = ports.find((port) => port.identity === identity);
  if (same) return { kind: 'open', path: same.path };
  const other = ports.find((port) => port.path === path);
  if (other) return { kind: 'refused', fault: otherDevice(source, identity, other) };
  return {
    kind: 'refused',
    fault: {
      code: 'port-not-found',
      what: `The device is not plugged in: ${identityWords(identity)}.`,
      got: `${ports.length === 0 ? 'no port' : ports.map((port) => port.path).join(', ')} on this computer`,
      remedy:
        'Plug it in; it is taken up by itself, under whatever name it then has. If it was replaced, choose the new one under Devices.',
    },
  };
}

function otherDevice(source: SerialSource, identity: string, other: PortDescription): Fault {
  const bySocket = other.knownBy === 'socket' || other.knownBy === 'port name';
  return {
    code: 'other-device',
    what: `${source.path} now holds another device than the one that was connected; it was not opened.`,
    got: `meant: ${identityWords(identity)}; there now: ${identityWords(other.identity)}`,
    remedy: bySocket
      ? 'Put the adapter back into the socket it was in, or connect this one anew under Devices and do its nudge.'
      : 'Plug the first device in again, or connect this one anew under Devices and do its nudge.',
  };
}

/** The same source with the identity of the port it names, where that is more than a name. Pure. */
export function withIdentity(
  source: LinkSource,
  ports: readonly PortDescription[],
  realPath: string | null,
): LinkSource {
  if (!isOnSerialPort(source) || source.identity !== undefined) return source;
  const port = ports.find(
    ({ path, identity }) =>
      path === source.path || identity === source.path || (realPath !== null && path === realPath),
  );
  if (!port || port.knownBy === 'port name') return source;
  return { ...source, path: port.path, identity: port.identity };
}

/** Whether two sources mean one device: by identity where both have one, else by the name. Pure. */
export function isSameSource(one: LinkSource, other: LinkSource): boolean {
  if (isOnSerialPort(one) && isOnSerialPort(other)) {
    const named = one.identity !== undefined && other.identity !== undefined;
    const same = named ? one.identity === other.identity : one.path === other.path;
    return same && JSON.stringify(readOver(one)) === JSON.stringify(readOver(other));
  }
  return JSON.stringify(one) === JSON.stringify(other);
}

type OnSerialPort = Extract<LinkSource, { kind: 'serial' | 'modbus rtu' }>;

export function isOnSerialPort(source: LinkSource): source is OnSerialPort {
  return source.kind === 'serial' || source.kind === 'modbus rtu';
}

/** How it is read, whatever its port is. */
function readOver({ path: _path, identity: _identity, ...rest }: OnSerialPort) {
  return rest;
}
