import {
  Answer,
  Comparison,
  checkerOf,
  Drift,
  type Fault,
  JobDetail,
  JobKey,
  Learned,
  ProofNames,
  ProofPage,
  ProofQuery,
} from '@taptrue/protocol';
import type { FastifyInstance, FastifyReply } from 'fastify';
import Type from 'typebox';
import { jobNotKept, proofNotRead, sweepNotKept } from '../records/archive/archive-faults.ts';
import type { SweepName } from '../records/store/find-detail.ts';
import type { BenchDoor } from '../service/bench-door.ts';

const queryCheck = checkerOf(ProofQuery);
const keyCheck = checkerOf(JobKey);
const machineCheck = checkerOf(Type.String({ maxLength: 120 }));

const MOST_COMPARED = 20;
const SWEEP_NAME = /^([A-Za-z0-9-]{1,80}):(\d{1,9})$/;

/** The kept jobs, to be read by every screen; what changes them are commands. */
export async function proofRoutes(app: FastifyInstance, door: BenchDoor): Promise<void> {
  /** A question about the store; where it cannot be read, that is the answer. */
  async function answer<T>(reply: FastifyReply, ask: () => Promise<T | Fault>) {
    try {
      const told = await ask();
      return isFault(told) ? reply.code(404).send({ ok: false, fault: told }) : told;
    } catch (error) {
      return reply.code(503).send({ ok: false, fault: proofNotRead(error) });
    }
  }

  app.get(
    '/proof/jobs',
    {
      schema: {
        summary: 'Kept jobs and their last sweeps, newest first, a page at a time',
        querystring: ProofQuery,
        response: { 200: ProofPage, 400: Answer, 503: Answer },
      },
    },
    async (request, reply) => {
      const checked = queryCheck.check(request.query);
      if (!checked.ok)
        return reply.code(400).send({ ok: false, fault: queryNotUnderstood(checked.why) });
      return answer(reply, () => door.proof.jobs(checked.value));
    },
  );

  app.get(
    '/proof/jobs/:key',
    {
      schema: {
        summary: 'One kept job with its sweeps, taps and notes',
        params: Type.Object({ key: JobKey }),
        response: { 200: JobDetail, 404: Answer, 503: Answer },
      },
    },
    async (request, reply) => {
      const { key } = request.params as { key: string };
      return answer(reply, async () => {
        const job = keyCheck.check(key).ok ? await door.proof.job(key) : null;
        return job ?? jobNotKept(key);
      });
    },
  );

  app.get(
    '/proof/compare',
    {
      schema: {
        summary: 'Two to twenty sweeps over each other: sweeps=KEY:NUMBER,KEY:NUMBER',
        querystring: Type.Object({ sweeps: Type.String() }),
        response: { 200: Comparison, 404: Answer, 503: Answer },
      },
    },
    async (request, reply) => {
      const { sweeps = '' } = request.query as { sweeps?: string };
      return answer(reply, async () => {
        const names = namesIn(sweeps);
        const compared = names && (await door.proof.comparison(names));
        return compared ?? sweepNotKept(sweeps.slice(0, 200));
      });
    },
  );

  app.get(
    '/proof/names',
    {
      schema: {
        summary: 'Machines and operators on the cards',
        response: { 200: ProofNames, 503: Answer },
      },
    },
    async (_request, reply) => answer(reply, () => door.proof.names()),
  );

  app.get(
    '/proof/drift',
    {
      schema: {
        summary: 'Final sweeps of one vise by date',
        querystring: Type.Object({ machine: Type.Optional(Type.String({ maxLength: 120 })) }),
        response: { 200: Drift, 503: Answer },
      },
    },
    async (request, reply) => {
      const { machine = '' } = request.query as { machine?: string };
      return answer(reply, () => door.proof.drift(machineCheck.check(machine).ok ? machine : ''));
    },
  );

  app.get(
    '/proof/learned',
    {
      schema: {
        summary: 'What the jobs of the vise in use taught: pivot, tightening, aiming off',
        response: { 200: Learned, 503: Answer },
      },
    },
    async (_request, reply) => answer(reply, () => door.proof.learned()),
  );
}

function namesIn(text: string): SweepName[] | null {
  const names = new Map<string, SweepName>();
  for (const part of text.split(',')) {
    const [, job, number] = SWEEP_NAME.exec(part) ?? [];
    if (job === undefined) return null;
    names.set(part, { job, number: Number(number) });
  }
  return names.size >= 2 && names.size <= MOST_COMPARED ? [...names.values()] : null;
}

function queryNotUnderstood(why: string): Fault {
  return {
    code: 'message-not-understood',
    what: 'The question was not understood.',
    got: why,
    remedy: 'Load the page again; if a program sent it, see the description at /api.',
  };
}

function isFault(told: unknown): told is Fault {
  return typeof told === 'object' && told !== null && 'code' in told && 'remedy' in told;
}
