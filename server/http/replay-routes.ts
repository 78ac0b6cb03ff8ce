import {
  Answer,
  Command,
  checkerOf,
  type Fault,
  MOST_OVERVIEW_COLUMNS,
  RecordOverview,
  ReplayAsk,
  ReplayMove,
  ReplayOpened,
} from '@taptrue/protocol';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import Type from 'typebox';
import { replayGone } from '../records/replay/replay-faults.ts';
import type { BenchDoor } from '../service/bench-door.ts';
import { roleOf } from './role-of.ts';

const askCheck = checkerOf(ReplayAsk);
const moveCheck = checkerOf(ReplayMove);
const commandCheck = checkerOf(Command);

const JOB_KEY = /^[A-Za-z0-9-]{1,80}$/;
const WithId = Type.Object({ id: Type.String() });

const refused = (fault: Fault) => ({ ok: false as const, fault });

function notUnderstood(what: string, got: string) {
  return refused({
    code: 'message-not-understood',
    what,
    got,
    remedy: 'Load the page again; if a program sent it, see the description at /api.',
  });
}

/** Records told again: to open, to move in, to try another setup in, and the whole needle of a kept job. */
export async function replayRoutes(app: FastifyInstance, door: BenchDoor): Promise<void> {
  /** Null where the caller may; a replay costs a thread, which a stranger in the network may not have. */
  const watching = (request: FastifyRequest): Fault | null =>
    roleOf(request, door.access) === 'watcher'
      ? {
          code: 'only-watching',
          what: 'This screen may only watch.',
          got: '',
          remedy: 'Pair it with the code shown under Devices on the bench screen.',
        }
      : null;

  // Who looks at the kept jobs may open one, and waits for nothing then.
  app.addHook('onRequest', async (request) => {
    if (request.url.startsWith('/api/proof/')) door.replays.warm();
  });

  app.post(
    '/replay',
    {
      schema: {
        summary: 'Opens a replay of a kept job, or of one sweep of it, at its beginning',
        body: ReplayAsk,
        response: { 200: ReplayOpened, 400: ReplayOpened, 403: ReplayOpened },
      },
    },
    async (request, reply) => {
      const fault = watching(request);
      if (fault) return reply.code(403).send(refused(fault));
      const checked = askCheck.check(request.body);
      if (!checked.ok) {
        return reply.code(400).send(notUnderstood('The replay was not understood.', checked.why));
      }
      return door.replays.open(checked.value);
    },
  );

  app.post(
    '/replay/:id',
    {
      schema: {
        summary: 'Plays, pauses, steps, scrubs or closes a replay',
        params: WithId,
        body: ReplayMove,
        response: { 200: Answer, 400: Answer, 403: Answer, 404: Answer },
      },
    },
    async (request, reply) => {
      const replay = replayFor(request, reply);
      if (!replay) return reply;
      const checked = moveCheck.check(request.body);
      if (!checked.ok) {
        return reply.code(400).send(notUnderstood('The move was not understood.', checked.why));
      }
      if (checked.value.move !== 'close') return replay.move(checked.value);
      replay.close();
      return { ok: true, note: 'The replay is closed.' };
    },
  );

  app.post(
    '/replay/:id/command',
    {
      schema: {
        summary: 'Tries another setup in a replay; the record and the bench are not touched',
        params: WithId,
        body: Command,
        response: { 200: Answer, 400: Answer, 403: Answer, 404: Answer },
      },
    },
    async (request, reply) => {
      const replay = replayFor(request, reply);
      if (!replay) return reply;
      const checked = commandCheck.check(request.body);
      if (!checked.ok) {
        return reply.code(400).send(notUnderstood('The command was not understood.', checked.why));
      }
      return replay.command(checked.value);
    },
  );

  app.get(
    '/proof/jobs/:key/overview',
    {
      schema: {
        summary: 'The needle of a kept job over a time: lowest and highest reading of each column',
        params: Type.Object({ key: Type.String() }),
        querystring: Type.Object({
          from: Type.Optional(Type.Number()),
          to: Type.Optional(Type.Number()),
          columns: Type.Integer({ minimum: 1, maximum: MOST_OVERVIEW_COLUMNS }),
        }),
        response: { 200: RecordOverview, 400: Answer, 404: Answer },
      },
    },
    async (request, reply) => {
      const { key } = request.params as { key: string };
      const asked = spanOf(request.query as Record<string, string | undefined>);
      if (!asked || !JOB_KEY.test(key)) {
        return reply
          .code(400)
          .send(notUnderstood('The overview was not understood.', request.url.slice(0, 200)));
      }
      const found = await door.replays.overview({ job: key, ...asked });
      return found.ok ? found.overview : reply.code(404).send(found);
    },
  );

  /** Null where it was answered already. */
  function replayFor(request: FastifyRequest, reply: FastifyReply) {
    const fault = watching(request);
    if (fault) {
      reply.code(403).send(refused(fault));
      return null;
    }
    const replay = door.replays.get((request.params as { id: string }).id);
    if (!replay) reply.code(404).send(refused(replayGone()));
    return replay;
  }
}

function spanOf(query: Record<string, string | undefined>) {
  const fromMs = query.from === undefined ? null : Number(query.from);
  const toMs = query.to === undefined ? null : Number(query.to);
  const columns = Number(query.columns);
  const areNumbers = [fromMs ?? 0, toMs ?? 0, columns].every(Number.isFinite);
  if (!areNumbers || !Number.isInteger(columns) || columns < 1) return null;
  return { fromMs, toMs, columns: Math.min(columns, MOST_OVERVIEW_COLUMNS) };
}
