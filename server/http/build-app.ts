import { existsSync } from 'node:fs';
import helmet from '@fastify/helmet';
import statics from '@fastify/static';
import swagger from '@fastify/swagger';
import websocket from '@fastify/websocket';
import { type Fault, faultLine, PROTOCOL_VERSION } from '@taptrue/protocol';
import Fastify, { type FastifyInstance } from 'fastify';
import { hostNameOf, originFits } from '../service/access/allowed-hosts.ts';
import type { BenchDoor } from '../service/bench-door.ts';
import { apiPage } from './api-page.ts';
import { apiRoutes } from './api-routes.ts';
import { errorAnswers } from './error-answers.ts';
import { liveSocket } from './live-socket.ts';

/** A command is a few hundred bytes; a setup with 25 typed stations under 4 kB. */
const LARGEST_BODY_BYTES = 65_536;

function hostFault(got: string): Fault {
  return {
    code: 'host-not-ours',
    what: 'This bench was called by a name it does not answer to.',
    got,
    remedy: 'Open it by the address printed where the service was started.',
  };
}

function originFault(got: string): Fault {
  return {
    code: 'origin-not-ours',
    what: 'A page of another site tried to reach this bench.',
    got,
    remedy: 'Use the page of the bench itself.',
  };
}

/** Raw headers are names and values in turn. */
function hostHeaders(raw: readonly string[]): number {
  return raw.filter((name, at) => at % 2 === 0 && name.toLowerCase() === 'host').length;
}

/**
 * The app without listening: routes, stream, page. Every request is checked for Host and Origin before
 * anything else sees it.
 */
export async function buildApp(door: BenchDoor, pageFolder: string): Promise<FastifyInstance> {
  const app = Fastify({
    bodyLimit: LARGEST_BODY_BYTES,
    logger: false,
    forceCloseConnections: true,
  });

  errorAnswers(app);
  app.addHook('onRequest', async (request, reply) => {
    const host = hostNameOf(request.headers.host);
    // Node hands on the first of several; whoever stands between may have gone by another.
    if (hostHeaders(request.raw.rawHeaders) > 1 || host === null || !door.hosts.has(host)) {
      return reply
        .code(421)
        .send({ ok: false, fault: hostFault(String(request.headers.host ?? 'none')) });
    }
    if (!originFits(request.headers.origin, request.headers.host)) {
      return reply
        .code(403)
        .send({ ok: false, fault: originFault(String(request.headers.origin)) });
    }
    return undefined;
  });

  // An upgrade that was refused has got its answer; left open, its socket would outlive the service.
  app.addHook('onResponse', async (request, reply) => {
    if (request.headers.upgrade !== undefined && reply.raw.headersSent) {
      request.raw.socket.destroySoon();
    }
  });

  await app.register(helmet, {
    contentSecurityPolicy: {
      directives: {
        defaultSrc: ["'self'"],
        // Lit writes style elements where a browser has no constructable style sheets.
        styleSrc: ["'self'", "'unsafe-inline'"],
        connectSrc: ["'self'"],
        // A bench is opened by its LAN address over http; an upgrade to https would find nobody there.
        upgradeInsecureRequests: null,
      },
    },
    strictTransportSecurity: false,
    crossOriginOpenerPolicy: false,
    originAgentCluster: false,
  });
  await app.register(swagger, {
    openapi: {
      // From 3.1 on, schemas are the JSON Schema that ours are; 3.0 knows neither null nor a bound left out.
      openapi: '3.1.0',
      info: {
        title: 'Taptrue bench',
        version: PROTOCOL_VERSION,
        description:
          'Commands and questions of one bench. What changes is told on the stream (/stream), described in DEVELOPERS.md. Nothing here moves a machine.',
      },
    },
  });
  await app.register(websocket, { options: { maxPayload: 4096, perMessageDeflate: false } });
  await app.register(async (scope) => liveSocket(scope, door));
  await app.register(async (scope) => apiRoutes(scope, door), { prefix: '/api' });
  app.get('/api', { schema: { hide: true } }, async (_request, reply) =>
    reply.type('text/html; charset=utf-8').send(apiPage(app.swagger())),
  );
  app.get('/api/openapi.json', { schema: { hide: true } }, async () => app.swagger());

  if (existsSync(pageFolder)) {
    await app.register(statics, { root: pageFolder, cacheControl: false });
  } else {
    app.get('/', { schema: { hide: true } }, async (_request, reply) =>
      reply
        .code(503)
        .type('text/plain; charset=utf-8')
        .send(
          faultLine({
            code: 'page-not-built',
            what: 'The page has not been built yet.',
            got: '',
            remedy: 'Stop the service and start it with npm start, which builds it.',
          }),
        ),
    );
  }
  return app;
}
