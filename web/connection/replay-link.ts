import {
  type Answer,
  type Command,
  checkerOf,
  RecordOverview,
  type ReplayMove,
  ReplayOpened,
} from '@taptrue/protocol';
import { postForAnswer } from './post-command.ts';

/** What the address of the page asks to be replayed. */
export interface ReplayOf {
  job: string;
  sweep: number | null;
}

/** Opening may have to wait for a thread to be made: three seconds of a core, which a busy computer stretches. */
const OPEN_TIMEOUT_MS = 60_000;

const opened = checkerOf(ReplayOpened);
const overview = checkerOf(RecordOverview);

/** `?replay=KEY`, with `&sweep=N` for one sweep; null: the bench itself is shown. */
export function replayOfAddress(search: string): ReplayOf | null {
  const asked = new URLSearchParams(search);
  const job = asked.get('replay');
  if (job === null || job === '') return null;
  const sweep = Number(asked.get('sweep'));
  return { job, sweep: Number.isInteger(sweep) && sweep > 0 ? sweep : null };
}

export function addressOfReplay({ job, sweep }: ReplayOf): string {
  return `/?replay=${encodeURIComponent(job)}${sweep === null ? '' : `&sweep=${sweep}`}`;
}

/** Never throws: what cannot be opened is a fault to be shown. */
export async function openReplay(of: ReplayOf): Promise<ReplayOpened> {
  const failed = (what: string, got: string): ReplayOpened => ({
    ok: false,
    fault: {
      code: 'service-not-reached',
      what,
      got,
      remedy: "Is the service still running on the bench's computer? Then load the page again.",
    },
  });
  try {
    const response = await fetch('/api/replay', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(of),
      signal: AbortSignal.timeout(OPEN_TIMEOUT_MS),
    });
    const checked = opened.parse(await response.text());
    return checked.ok ? checked.value : failed('The replay could not be opened.', checked.why);
  } catch {
    return failed('The service did not open the replay.', '');
  }
}

export function postMove(id: string, move: ReplayMove): Promise<Answer> {
  return postForAnswer(`/api/replay/${id}`, move);
}

export function postReplayCommand(id: string, command: Command): Promise<Answer> {
  return postForAnswer(`/api/replay/${id}/command`, command);
}

/** The whole needle of a time of a job; null where it cannot be had: the replay goes without its picture. */
export async function fetchOverview(
  job: string,
  columns: number,
  span: { fromMs: number; toMs: number } | null,
): Promise<RecordOverview | null> {
  const between = span === null ? '' : `&from=${span.fromMs}&to=${span.toMs}`;
  try {
    const response = await fetch(
      `/api/proof/jobs/${encodeURIComponent(job)}/overview?columns=${columns}${between}`,
      { signal: AbortSignal.timeout(OPEN_TIMEOUT_MS) },
    );
    const checked = overview.parse(await response.text());
    return checked.ok ? checked.value : null;
  } catch {
    return null;
  }
}
