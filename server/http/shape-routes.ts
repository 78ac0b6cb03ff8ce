import {
  Answer,
  checkerOf,
  type Fault,
  LinkName,
  ShapeFile,
  TeachAnswer,
  TeachQuestion,
} from '@taptrue/protocol';
import type { FastifyInstance } from 'fastify';
import Type from 'typebox';
import { teachShape } from '../devices/formats/teach/teach-shape.ts';
import type { BenchDoor } from '../service/bench-door.ts';

const questionCheck = checkerOf(TeachQuestion);
const linkCheck = checkerOf(LinkName);

const refused = (fault: Fault): Answer => ({ ok: false, fault });

/** Line shapes: the list, a file to share, and what would be made of captured lines. Nothing is kept here. */
export async function shapeRoutes(app: FastifyInstance, door: BenchDoor): Promise<void> {
  app.get('/shapes', { schema: { summary: 'Line shapes known here' } }, async () =>
    door.shapes.list(),
  );

  app.get(
    '/shapes/:name',
    {
      schema: {
        summary: 'A line shape as a file, those that ship too',
        params: Type.Object({ name: Type.String() }),
        response: { 200: ShapeFile, 404: Answer },
      },
    },
    async (request, reply) => {
      const { name } = request.params as { name: string };
      const file = door.shapes.file(name);
      if (!file) {
        return reply.code(404).send(
          refused({
            code: 'shape-not-known',
            what: 'There is no line shape of that name.',
            got: name.slice(0, 60),
            remedy: 'Pick one from the list under Devices.',
          }),
        );
      }
      return reply
        .header(
          'content-disposition',
          `attachment; filename="${file.shape.name}.taptrue-shape.json"`,
        )
        .send(file);
    },
  );

  app.post(
    '/shapes/try',
    {
      schema: {
        summary: 'What would be made of captured lines and marks; nothing is kept',
        body: TeachQuestion,
        response: { 200: TeachAnswer, 400: Answer },
      },
    },
    async (request, reply) => {
      const checked = questionCheck.check(request.body);
      if (checked.ok) return teachShape(checked.value);
      return reply.code(400).send(
        refused({
          code: 'message-not-understood',
          what: 'What was marked was not understood.',
          got: checked.why,
          remedy: 'Load the page again; if a program sent it, see the description at /api.',
        }),
      );
    },
  );

  app.get(
    '/links/:link/bytes',
    {
      schema: {
        summary: 'The last bytes of an open device as they came, Latin-1, at most 2048',
        params: Type.Object({ link: Type.String() }),
        response: { 200: Type.Object({ bytes: Type.String() }), 404: Answer },
      },
    },
    async (request, reply) => {
      const link = linkCheck.check((request.params as { link: string }).link);
      if (link.ok) return { bytes: door.shapes.lastBytes(link.value) };
      return reply.code(404).send(
        refused({
          code: 'no-such-address',
          what: 'There is no such device.',
          got: '',
          remedy: 'It is indicator or readout.',
        }),
      );
    },
  );
}
