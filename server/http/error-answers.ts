import type { Answer, FaultCode } from '@taptrue/protocol';
import type { FastifyInstance } from 'fastify';

function refusal(code: FaultCode, what: string, got: string, remedy: string): Answer {
  return { ok: false, fault: { code, what, got, remedy } };
}

const SEE_API = 'Load the page again; if a program sent it, see the description at /api.';

/**
 * What the HTTP library refuses by itself (broken JSON, too long, no such address), and what breaks on our
 * side, is told in the same words and schema as everything else. Nothing of our insides is given away.
 */
export function errorAnswers(app: FastifyInstance): void {
  app.setErrorHandler((error: Error & { statusCode?: number }, _request, reply) => {
    const status = error.statusCode ?? 500;
    const isTheirs = status >= 400 && status < 500;
    const answer = isTheirs
      ? refusal('message-not-understood', 'The message was not understood.', error.message, SEE_API)
      : refusal(
          'fault-of-ours',
          'The service failed at this.',
          '',
          'Try again. If it stays, restart the service and report what was asked for.',
        );
    return reply
      .code(isTheirs ? status : 500)
      .type('application/json; charset=utf-8')
      .serializer((value: unknown) => JSON.stringify(value))
      .send(answer);
  });
  app.setNotFoundHandler((request, reply) =>
    reply
      .code(404)
      .send(
        refusal(
          'no-such-address',
          'There is nothing at this address.',
          `${request.method} ${request.url.slice(0, 200)}`,
          'Open the page at /, or see the description at /api.',
        ),
      ),
  );
}
