import {
  Answer,
  BenchState,
  Command,
  checkerOf,
  PortDescription,
  PROTOCOL_VERSION,
} from '@taptrue/protocol';
import type { FastifyInstance } from 'fastify';
import Type from 'typebox';
import type { BenchDoor } from '../service/bench-door.ts';
import { planRoutes } from './plan-routes.ts';
import { proofRoutes } from './proof-routes.ts';
import { recordRoutes } from './record-routes.ts';
import { replayRoutes } from './replay-routes.ts';
import { roleOf, TOKEN_COOKIE } from './role-of.ts';
import { shapeRoutes } from './shape-routes.ts';

const commandCheck = checkerOf(Command);
const PairRequest = Type.Object(
  { code: Type.String({ maxLength: 12 }), name: Type.String({ maxLength: 60 }) },
  { additionalProperties: false },
);
const pairCheck = checkerOf(PairRequest);

/** A tablet stays paired until it is removed on the bench screen; a year is the longest a browser keeps a cookie. */
const TOKEN_SECONDS = 365 * 24 * 3600;

function notUnderstood(what: string, why: string): Answer {
  return {
    ok: false,
    fault: {
      code: 'message-not-understood',
      what,
      got: why,
      remedy: 'Load the page again; if a program sent it, see the description at /api.',
    },
  };
}

/** Questions and commands over HTTP. Bodies are checked by the same schema the documentation is made of. */
export async function apiRoutes(app: FastifyInstance, door: BenchDoor): Promise<void> {
  // Bodies are checked by the protocol's own checker, which names the place; Fastify's would coerce types.
  app.setValidatorCompiler(() => () => true);
  // What the bench is at this moment: an answer that is kept somewhere is an old reading shown as a new one.
  app.addHook('onSend', async (_request, reply) => {
    if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store');
  });
  app.setSerializerCompiler(() => (value) => JSON.stringify(value));

  app.get(
    '/state',
    { schema: { summary: 'The whole state, once', response: { 200: BenchState } } },
    async () => door.store.state,
  );

  app.get('/health', { schema: { summary: 'Counters of the service' } }, async () => ({
    version: PROTOCOL_VERSION,
    screens: door.hub.screens,
    screensCut: door.hub.screensCut,
    ...door.health(),
  }));

  app.get(
    '/ports',
    {
      schema: {
        summary: 'Serial ports with a stable identity',
        response: { 200: Type.Array(PortDescription) },
      },
    },
    async () => door.ports(),
  );

  await planRoutes(app, door);
  await shapeRoutes(app, door);
  await proofRoutes(app, door);
  await replayRoutes(app, door);
  await recordRoutes(app, door);

  app.post(
    '/command',
    {
      schema: {
        summary: 'One command to the bench',
        body: Command,
        response: { 200: Answer, 400: Answer, 403: Answer },
      },
    },
    async (request, reply) => {
      const role = roleOf(request, door.access);
      if (role === 'watcher') {
        return reply.code(403).send({
          ok: false,
          fault: {
            code: 'only-watching',
            what: 'This screen may only watch.',
            got: '',
            remedy: 'Pair it with the code shown under Devices on the bench screen.',
          },
        });
      }
      const checked = commandCheck.check(request.body);
      if (!checked.ok) {
        return reply.code(400).send(notUnderstood('The command was not understood.', checked.why));
      }
      return door.command(checked.value, role);
    },
  );

  app.post(
    '/pair',
    {
      schema: {
        summary: 'Pairs this tablet by the code on the bench screen',
        body: PairRequest,
        response: { 200: Answer, 400: Answer, 403: Answer },
      },
    },
    async (request, reply) => {
      const checked = pairCheck.check(request.body);
      if (!checked.ok) {
        return reply
          .code(400)
          .send(notUnderstood('The pairing request was not understood.', checked.why));
      }
      const paired = door.access.pair(checked.value.code, checked.value.name, door.now());
      if (!paired.ok) return reply.code(403).send(paired);
      return reply
        .header(
          'set-cookie',
          `${TOKEN_COOKIE}=${paired.token}; Path=/; Max-Age=${TOKEN_SECONDS}; HttpOnly; SameSite=Strict`,
        )
        .send({ ok: true, note: 'This tablet is paired.' });
    },
  );
}
