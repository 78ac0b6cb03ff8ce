import { hostname, networkInterfaces } from 'node:os';

const LOOPBACK_NAMES = new Set(['localhost', '127.0.0.1', '[::1]']);

/** Host name of a Host header, without port, lower case. Null where it is not one. */
export function hostNameOf(hostHeader: string | undefined): string | null {
  if (!hostHeader) return null;
  const match = /^(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(?::\d{1,5})?$/i.exec(hostHeader);
  return match ? match[1]!.toLowerCase() : null;
}

/**
 * Addresses of this machine's own network interfaces, without loopback. IPv4 only, because the service listens
 * on 0.0.0.0: an IPv6 address would be printed and reach nobody.
 */
export function ownAddresses(): string[] {
  return Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(({ internal, family }) => !internal && family === 'IPv4')
    .map(({ address }) => address);
}

/**
 * Names this bench answers to. A page of another site that was given our address by a lying name server
 * comes with that site's Host and is refused.
 */
export function allowedHosts(reachableFromElsewhere: boolean): ReadonlySet<string> {
  if (!reachableFromElsewhere) return LOOPBACK_NAMES;
  const name = hostname().toLowerCase();
  return new Set([...LOOPBACK_NAMES, ...ownAddresses(), name, `${name}.local`]);
}

/** True where the Origin, if any, is the very host the request was made to: no other site's page may command. */
export function originFits(origin: string | undefined, hostHeader: string | undefined): boolean {
  if (origin === undefined) return true;
  if (!hostHeader) return false;
  return origin === `http://${hostHeader}` || origin === `https://${hostHeader}`;
}

/** True for an address of a socket whose other end is on this machine. */
export function isLoopbackAddress(address: string | undefined): boolean {
  return address !== undefined && (address === '::1' || /^(::ffff:)?127\./.test(address));
}
