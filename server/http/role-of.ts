import type { IncomingMessage } from 'node:http';
import type { Role } from '@taptrue/protocol';
import type { FastifyRequest } from 'fastify';
import type { Access } from '../service/access/access.ts';
import { hostNameOf, isLoopbackAddress } from '../service/access/allowed-hosts.ts';

export const TOKEN_COOKIE = 'taptrue_tablet';

function tokenIn(cookieHeader: string | undefined): string | undefined {
  for (const part of cookieHeader?.split(';') ?? []) {
    const [name, ...value] = part.trim().split('=');
    if (name === TOKEN_COOKIE) return value.join('=');
  }
  return undefined;
}

function roleOfRaw(request: IncomingMessage, access: Access): Role {
  // A forwarder on this machine would make every caller look local: such a request is not from this machine.
  const forwarded =
    request.headers['x-forwarded-for'] !== undefined || request.headers.forwarded !== undefined;
  const fromThisMachine = isLoopbackAddress(request.socket.remoteAddress) && !forwarded;
  // Opened by a LAN address on the bench itself, the socket is not loopback either: the page is then a watcher
  // until paired, which is safe and is said on the screen.
  return access.role(
    fromThisMachine && hostNameOf(request.headers.host) !== null,
    tokenIn(request.headers.cookie),
  );
}

/** May this caller command, or only watch? */
export function roleOf(request: FastifyRequest, access: Access): Role {
  return roleOfRaw(request.raw, access);
}
