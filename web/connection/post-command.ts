import { Answer, type Command, checkerOf, type Fault } from '@taptrue/protocol';

/** A command is answered in milliseconds; after this the button must not look as if it had worked. */
export const ANSWER_TIMEOUT_MS = 5_000;

const answer = checkerOf(Answer);

/**
 * Sends JSON to the service and reads its answer. Never throws: a service that is not there, is too slow or
 * says something else is a fault like any other.
 */
export async function postForAnswer(url: string, body: unknown): Promise<Answer> {
  let text: string;
  try {
    const response = await fetch(url, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
      signal: AbortSignal.timeout(ANSWER_TIMEOUT_MS),
    });
    text = await response.text();
  } catch (error) {
    return { ok: false, fault: notReached(error) };
  }
  const checked = answer.parse(text);
  if (checked.ok) return checked.value;
  return {
    ok: false,
    fault: {
      code: 'answer-not-understood',
      what: 'The service gave an answer that this page does not understand.',
      got: text.slice(0, 120),
      remedy: 'Reload the page. If it stays, page and service are of different versions.',
    },
  };
}

export function postCommand(command: Command, origin = ''): Promise<Answer> {
  return postForAnswer(`${origin}/api/command`, command);
}

/** Pairs this tablet by the code shown on the bench screen. */
export function postPair(code: string, name: string, origin = ''): Promise<Answer> {
  return postForAnswer(`${origin}/api/pair`, { code, name });
}

function notReached(error: unknown): Fault {
  const tooSlow = error instanceof DOMException && error.name === 'TimeoutError';
  return {
    code: 'service-not-reached',
    what: tooSlow
      ? `The service did not answer within ${ANSWER_TIMEOUT_MS / 1000} s.`
      : 'The service could not be reached.',
    got: '',
    remedy:
      'Whether it was done is not known: look at the screen once it is connected again, then repeat if needed.',
  };
}
