import { Answer, type Fault, faultLine, JobFile } from '@taptrue/protocol';
import type { FastifyInstance } from 'fastify';
import Type from 'typebox';
import type { BenchDoor } from '../service/bench-door.ts';

const JOB_ID = /^[a-z0-9-]{1,60}$/;

const NO_PLAN: Fault = {
  code: 'plan-not-made',
  what: 'There is no plan to print yet.',
  got: '',
  remedy: 'Give the angle from the print under Plan, then print the sheet.',
};

function noJob(id: string): Fault {
  return {
    code: 'not-on-the-shelf',
    what: 'There is no such job.',
    got: id,
    remedy: 'Pick one from the list under Plan.',
  };
}

/** Jobs for download and the setup sheet for print. */
export async function planRoutes(app: FastifyInstance, door: BenchDoor): Promise<void> {
  app.get(
    '/jobs/:id',
    {
      schema: {
        summary: 'A kept job as a file; "current" is the plan as it stands',
        params: Type.Object({ id: Type.String() }),
        response: { 200: JobFile, 404: Answer },
      },
    },
    async (request, reply) => {
      const { id } = request.params as { id: string };
      const file =
        id === 'current'
          ? door.plans.desk.jobFile
          : JOB_ID.test(id)
            ? await door.plans.job(id)
            : null;
      if (!file) return reply.code(404).send({ ok: false, fault: noJob(id) });
      return reply
        .header('content-disposition', `attachment; filename="${id}.taptrue-job.json"`)
        .send(file);
    },
  );

  app.get(
    '/sheet',
    {
      schema: {
        summary: 'The setup sheet of the plan, one page for print',
        querystring: Type.Object({
          paper: Type.Optional(Type.Union([Type.Literal('a4'), Type.Literal('letter')])),
        }),
      },
    },
    async (request, reply) => {
      const { paper } = request.query as { paper?: string };
      const today = new Date().toISOString().slice(0, 10);
      const sheet = door.plans.sheet(paper === 'letter' ? 'letter' : 'a4', today);
      // A page is opened by a person: what is wrong is said as text, not as JSON.
      if (sheet === null) {
        return reply.code(404).type('text/plain; charset=utf-8').send(faultLine(NO_PLAN));
      }
      // The sheet is text already; the routes' own serializer would quote it.
      return reply.type('text/html; charset=utf-8').serializer(String).send(sheet);
    },
  );
}
