/** The answer is longer than it may be; nothing of it is used. */
export class TooLong extends Error {
  override name = 'TooLong';
}

/** Something answers, in another language than HTTP. */
export class NotHttp extends Error {
  override name = 'NotHttp';
}

/**
 * The answer sends us to another address. It is not followed: an agent that lies could have this computer ask
 * addresses that only it reaches, and show the answer to whoever watches.
 */
export class Redirected extends Error {
  override name = 'Redirected';
}

export interface HttpAnswer {
  status: number;
  contentType: string | null;
  /** Its pieces as they come; throws where the connection breaks or `signal` says so. */
  pieces: AsyncIterable<Uint8Array>;
}

/** One GET. Throws what the system says, the reason of `signal` where that ended it. */
export async function httpGet(url: string, signal: AbortSignal): Promise<HttpAnswer> {
  // Unpacked at once: a packed stream would be held back until a block is full.
  const headers = { accept: 'text/xml, multipart/x-mixed-replace', 'accept-encoding': 'identity' };
  try {
    const response = await fetch(url, { headers, signal, redirect: 'manual' });
    if (response.status >= 300 && response.status < 400) {
      await response.body?.cancel().catch(() => undefined);
      throw new Redirected(`the answer ${response.status}`);
    }
    return {
      status: response.status,
      contentType: response.headers.get('content-type'),
      pieces: piecesOf(response),
    };
  } catch (error) {
    throw systemError(error);
  }
}

async function* piecesOf(response: Response): AsyncIterable<Uint8Array> {
  if (response.body === null) return;
  const reader = response.body.getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      yield value;
    }
  } catch (error) {
    throw systemError(error);
  } finally {
    // Whatever ended the reading, the rest is not fetched.
    await reader.cancel().catch(() => undefined);
  }
}

/** The whole answer as text. Throws TooLong. */
export async function wholeText(
  answer: HttpAnswer,
  longestBytes: number,
  onBytes: (bytes: number) => void,
): Promise<string> {
  const pieces: Uint8Array[] = [];
  let bytes = 0;
  for await (const piece of answer.pieces) {
    bytes += piece.length;
    onBytes(piece.length);
    if (bytes > longestBytes) throw new TooLong();
    pieces.push(piece);
  }
  return Buffer.concat(pieces).toString('utf8');
}

/** `fetch failed` says nothing; its cause says ECONNREFUSED. */
function systemError(error: unknown): unknown {
  if (!(error instanceof TypeError) || error.cause === undefined) return error;
  // Two addresses of one name that were both tried are told together; the first says enough.
  const cause = error.cause instanceof AggregateError ? error.cause.errors[0] : error.cause;
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : '';
  if (code.startsWith('HPE_')) return new NotHttp('no HTTP answer');
  // The library's own word for a connection that was broken off.
  if (code === 'UND_ERR_SOCKET')
    return Object.assign(new Error('connection broken off'), { code: 'ECONNRESET' });
  return cause;
}
