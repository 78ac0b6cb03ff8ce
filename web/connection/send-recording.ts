import {
  Answer,
  checkerOf,
  type Fault,
  ImportAnswer,
  type ImportedRecording,
} from '@taptrue/protocol';

/** All of it is checked before the answer: some 20 s for 200 MB on a slow computer, and it must be sent as well. */
const TAKING_IN_MS = 15 * 60_000;

const answer = checkerOf(ImportAnswer);
const refusal = checkerOf(Answer);

export type SentRecording =
  | { ok: true; imported: ImportedRecording[] }
  | { ok: false; fault: Fault };

/** Sends a file of recordings to the bench; never throws. */
export async function sendRecording(file: Blob): Promise<SentRecording> {
  let text: string;
  try {
    const response = await fetch('/api/records/import', {
      method: 'POST',
      headers: { 'content-type': 'application/x-ndjson' },
      body: file,
      signal: AbortSignal.timeout(TAKING_IN_MS),
    });
    text = await response.text();
  } catch {
    return { ok: false, fault: notReached() };
  }
  const taken = answer.parse(text);
  if (taken.ok) return { ok: true, imported: taken.value.imported };
  const refused = refusal.parse(text);
  if (refused.ok && !refused.value.ok) return { ok: false, fault: refused.value.fault };
  return { ok: false, fault: notUnderstood(text) };
}

function notReached(): Fault {
  return {
    code: 'service-not-reached',
    what: 'The file did not reach the bench.',
    got: '',
    remedy: 'Try again; what is there already is passed over.',
  };
}

function notUnderstood(text: string): Fault {
  return {
    code: 'answer-not-understood',
    what: 'The service gave an answer that this page does not understand.',
    got: text.slice(0, 120),
    remedy: 'Load the page again; page and service may be of different versions.',
  };
}
