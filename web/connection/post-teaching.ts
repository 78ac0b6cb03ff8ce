import { checkerOf, type LinkName, TeachAnswer, type TeachQuestion } from '@taptrue/protocol';
import Type from 'typebox';
import type { Fetched } from './fetch-lists.ts';
import { ANSWER_TIMEOUT_MS } from './post-command.ts';

const bytesAnswer = checkerOf(Type.Object({ bytes: Type.String() }));
const teachAnswer = checkerOf(TeachAnswer);

async function asked<T>(
  url: string,
  init: RequestInit,
  parse: (text: string) => Fetched<T>,
): Promise<Fetched<T>> {
  try {
    const response = await fetch(url, { ...init, signal: AbortSignal.timeout(ANSWER_TIMEOUT_MS) });
    if (!response.ok) return { ok: false, why: `the service answered ${response.status}` };
    return parse(await response.text());
  } catch {
    return { ok: false, why: 'the service could not be reached' };
  }
}

/** The last bytes of an open device as they came, Latin-1. */
export async function fetchBytes(link: LinkName, origin = ''): Promise<Fetched<string>> {
  const answer = await asked(`${origin}/api/links/${link}/bytes`, {}, bytesAnswer.parse);
  return answer.ok ? { ok: true, value: answer.value.bytes } : answer;
}

/** What would be made of captured lines and marks. Nothing is kept by asking. */
export function tryShape(question: TeachQuestion, origin = ''): Promise<Fetched<TeachAnswer>> {
  return asked(
    `${origin}/api/shapes/try`,
    {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(question),
    },
    teachAnswer.parse,
  );
}
