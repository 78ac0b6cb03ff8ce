import { Readable } from 'node:stream';
import { Answer, checkerOf, type Fault, faultLine, ImportAnswer, JobKey } from '@taptrue/protocol';
import type { FastifyInstance, FastifyReply } from 'fastify';
import Type from 'typebox';
import { jobNotKept, proofNotRead, sweepNotKept } from '../records/archive/archive-faults.ts';
import type { BenchDoor } from '../service/bench-door.ts';
import { roleOf } from './role-of.ts';

const keyCheck = checkerOf(JobKey);
const SWEEP = /^\d{1,6}$/;

const Params = Type.Object({ key: JobKey });
const SweepQuery = Type.Object({ sweep: Type.Optional(Type.String({ pattern: SWEEP.source })) });

/** Kept jobs given out as files, printed, and taken in. Giving out is for every screen, taking in is not. */
export async function recordRoutes(app: FastifyInstance, door: BenchDoor): Promise<void> {
  app.get(
    '/records/:key/recording',
    {
      schema: {
        summary: 'A kept job as a recording, one JSON object a line; with sweep up to that sweep',
        params: Params,
        querystring: SweepQuery,
      },
    },
    async (request, reply) => {
      const { key, sweep } = asked(request);
      return answered(reply, async () => {
        const given = isKey(key) ? await door.recordings.recording(key, sweep) : null;
        if (!given) return refuse(reply, 404, notKept(key, sweep));
        return reply
          .type('application/x-ndjson; charset=utf-8')
          .header('content-disposition', `attachment; filename="${given.name}"`)
          .send(Readable.from(given.content, { objectMode: false }));
      });
    },
  );

  app.get(
    '/records/:key/points',
    {
      schema: {
        summary: 'The points of one sweep as comma-separated text',
        params: Params,
        querystring: SweepQuery,
      },
    },
    async (request, reply) => {
      const { key, sweep } = asked(request);
      return answered(reply, async () => {
        const given =
          isKey(key) && sweep !== null ? await door.recordings.points(key, sweep) : null;
        if (!given) return refuse(reply, 404, notKept(key, sweep ?? 0));
        return reply
          .type('text/csv; charset=utf-8')
          .header('content-disposition', `attachment; filename="${given.name}"`)
          .serializer(String)
          .send(given.content);
      });
    },
  );

  app.get(
    '/records/:key/sheet',
    {
      schema: {
        summary: 'The record of a kept job, one page for print',
        params: Params,
        querystring: Type.Object({
          paper: Type.Optional(Type.Union([Type.Literal('a4'), Type.Literal('letter')])),
          replay: Type.Optional(
            Type.Literal('1', { description: 'Printed out of a replay: REPLAY across it' }),
          ),
        }),
      },
    },
    async (request, reply) => {
      const { key } = asked(request);
      const { paper, replay } = request.query as { paper?: string; replay?: string };
      const printedText = `printed ${new Date().toISOString().slice(0, 10)}`;
      return answered(reply, async () => {
        const sheet = isKey(key)
          ? await door.recordings.sheet({
              job: key,
              paper: paper === 'letter' ? 'letter' : 'a4',
              printedText,
              isReplay: replay === '1',
            })
          : { ok: false as const, fault: jobNotKept(key) };
        // A page is opened by a person: what is wrong is said as text, not as JSON.
        if (!sheet.ok)
          return reply
            .code(404)
            .type('text/plain; charset=utf-8')
            .serializer(String)
            .send(faultLine(sheet.fault));
        return reply.type('text/html; charset=utf-8').serializer(String).send(sheet.html);
      });
    },
  );

  await app.register(async (scope) => {
    // Of any length: the bytes are laid down as they come, and counted there.
    scope.addContentTypeParser('application/x-ndjson', (_request, payload, done) =>
      done(null, payload),
    );
    scope.post(
      '/records/import',
      {
        bodyLimit: Number.MAX_SAFE_INTEGER,
        schema: {
          summary: 'Takes recordings in, after checking all of each; body application/x-ndjson',
          response: { 200: ImportAnswer, 400: Answer, 403: Answer },
        },
      },
      async (request, reply) => {
        if (roleOf(request, door.access) === 'watcher') return refuse(reply, 403, onlyWatching());
        const taken = await door.recordings.takeIn(request.body as AsyncIterable<Uint8Array>);
        return taken.ok ? { imported: taken.imported } : refuse(reply, 400, taken.fault);
      },
    );
  });
}

function asked(request: { params: unknown; query: unknown }): {
  key: string;
  sweep: number | null;
} {
  const { key } = request.params as { key: string };
  const { sweep } = request.query as { sweep?: string };
  return { key, sweep: sweep !== undefined && SWEEP.test(sweep) ? Number(sweep) : null };
}

function isKey(key: string): boolean {
  return keyCheck.check(key).ok;
}

function notKept(key: string, sweep: number | null): Fault {
  return sweep === null ? jobNotKept(key.slice(0, 80)) : sweepNotKept(`sweep ${sweep}`);
}

function refuse(reply: FastifyReply, code: number, fault: Fault) {
  return reply.code(code).send({ ok: false, fault });
}

/** Where the store cannot be read, that is the answer. */
async function answered(reply: FastifyReply, give: () => Promise<FastifyReply>) {
  try {
    return await give();
  } catch (error) {
    return refuse(reply, 503, proofNotRead(error));
  }
}

function onlyWatching(): Fault {
  return {
    code: 'only-watching',
    what: 'This screen may only watch.',
    got: '',
    remedy: 'Pair it with the code shown under Devices on the bench screen.',
  };
}
