import type { PortDescription } from '@taptrue/protocol';

/** What a system's own list says of one port; every part but the path may be missing. */
export interface ListedPort {
  path: string;
  manufacturer?: string | undefined;
  serialNumber?: string | undefined;
  vendorId?: string | undefined;
  productId?: string | undefined;
  friendlyName?: string | undefined;
  /** Where it is plugged in, as Windows and macOS tell it. */
  locationId?: string | undefined;
  pnpId?: string | undefined;
}

export interface PortLinks {
  /** Link under by-id, or null. */
  byId: string | null;
  byPath: string | null;
}

export type PortIdentity = Pick<PortDescription, 'identity' | 'knownBy'>;

/**
 * Serial numbers that a maker leaves in every piece: all one digit, zeros and a one, or counting up. Common
 * practice of adapter makers, no source.
 */
const EVERYONES_NUMBER = /^(0*1?|(.)\2*|0?1234567?8?9?0?)$/;

/**
 * Windows makes up an instance number from the socket where a device has none; it holds `&`, which a USB
 * serial number may not there.
 */
function ownSerialNumber(serial: string | undefined): string | null {
  if (!serial || serial.includes('&') || EVERYONES_NUMBER.test(serial)) return null;
  return serial;
}

/**
 * What the port is known by: USB vendor, product and serial number (with the interface, where one adapter has
 * several); else its by-id link; else its by-path link or socket; else its name. The by-id link of an adapter
 * without a serial number of its own is the same for every piece of that make, and is not used. Pure.
 */
export function identityOf(port: ListedPort, links: PortLinks): PortIdentity {
  const vendor = port.vendorId?.toLowerCase();
  const product = port.productId?.toLowerCase();
  const serial = ownSerialNumber(port.serialNumber);
  if (vendor && product && serial) {
    const part = interfaceOf(links.byId ?? port.pnpId);
    return {
      identity: ['usb', vendor, product, serial, part].filter(Boolean).join(':'),
      knownBy: 'serial number',
    };
  }
  if (!vendor && links.byId) return { identity: links.byId, knownBy: 'name by id' };
  return bySocket(port, links);
}

/** Two that would be called the same are told apart by where they are plugged in. Pure. */
export function tellApart(
  ports: readonly { port: ListedPort; links: PortLinks }[],
): Map<string, PortIdentity> {
  const found = ports.map(({ port, links }) => ({ port, links, known: identityOf(port, links) }));
  const times = new Map<string, number>();
  for (const { known } of found) times.set(known.identity, (times.get(known.identity) ?? 0) + 1);
  return new Map(
    found.map(({ port, links, known }) => [
      port.path,
      times.get(known.identity) === 1 ? known : bySocket(port, links),
    ]),
  );
}

function bySocket(port: ListedPort, links: PortLinks): PortIdentity {
  if (links.byPath) return { identity: links.byPath, knownBy: 'socket' };
  const { vendorId, productId, locationId } = port;
  if (vendorId && productId && locationId) {
    return {
      identity: `usb:${vendorId}:${productId}@${locationId}`.toLowerCase(),
      knownBy: 'socket',
    };
  }
  return { identity: port.path, knownBy: 'port name' };
}

/** `if00-port0` of `…-if00-port0`: which of an adapter's ports it is. */
function interfaceOf(byId: string | null | undefined): string | null {
  return /-(if[0-9a-f]{2}(?:-port\d+)?)$/.exec(byId ?? '')?.[1] ?? null;
}

/** The identity as a fault names it. Pure. */
export function identityWords(identity: string): string {
  const usb = /^usb:([0-9a-f]{4}):([0-9a-f]{4}):([^:]+)(?::(.+))?$/.exec(identity);
  if (usb) {
    const [, vendor, product, serial, part] = usb;
    return `the adapter with serial number ${serial} (USB ${vendor}:${product}${part ? `, ${part}` : ''})`;
  }
  const socket = /^usb:([0-9a-f]{4}):([0-9a-f]{4})@(.+)$/.exec(identity);
  if (socket) return `the adapter USB ${socket[1]}:${socket[2]} in the socket ${socket[3]}`;
  if (identity.startsWith('/dev/serial/by-path/')) {
    return `whatever is plugged in at ${identity.slice('/dev/serial/by-path/'.length)}`;
  }
  if (identity.startsWith('/dev/serial/by-id/')) return identity.slice('/dev/serial/by-id/'.length);
  return identity;
}
