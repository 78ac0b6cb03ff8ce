import type { Fault } from '@taptrue/protocol';
import { type Clock, OneTimer } from '../clock.ts';
import { explainPortError } from '../explain-port-error.ts';
import { certificateFault } from './certificate-fault.ts';
import { type MtconnectDocument, readDocument } from './documents.ts';
import { type HttpAnswer, httpGet, NotHttp, Redirected, TooLong, wholeText } from './http-get.ts';
import {
  agentRefusedFault,
  notMtconnectFault,
  redirectedFault,
  tooLongAnswerFault,
} from './mtconnect-faults.ts';
import { boundaryOf, PartCutter } from './multipart.ts';

/** A large machine describes itself in some hundred kilobytes; positions of one are a few. */
const LONGEST_DOCUMENT_BYTES = 4_000_000;
/** An agent in the building answers in milliseconds. */
const ANSWER_WITHIN_MS = 2000;

/** What is done about a connection is another thing with an agent than with a serial device server. */
const REMEDIES: Readonly<Record<string, string>> = {
  'connection-refused': 'Start the agent, or look up its port number; 5000 is the usual one.',
  'connection-timed-out': "Check that the agent's computer has power and network, and its address.",
  'connection-lost': 'Check that the agent runs; it is tried again by itself.',
  'host-not-found': "Check its spelling, or use the numeric address of the agent's computer.",
};

/** What ends a request that is no use: in the user's words already. */
export class AgentTrouble extends Error {
  override name = 'AgentTrouble';
  constructor(readonly fault: Fault) {
    super(fault.what);
  }
}

/** Nothing came in time; the request was given up. */
export class NoAnswer extends Error {
  override name = 'NoAnswer';
}

export interface AgentClientOptions {
  device: string;
  /** `http://host:port/mill-1`, without a slash at its end. */
  base: string;
  clock: Clock;
  /** Ends whatever is under way. */
  signal: AbortSignal;
  onBytes(bytes: number): void;
  /** What came last, as it came. */
  onText(text: string): void;
}

/** Requests to one agent and its documents, each bounded in length and in time. */
export class AgentClient {
  constructor(private readonly options: AgentClientOptions) {}

  /** One document. Throws AgentTrouble or NoAnswer. */
  async ask(request: string): Promise<MtconnectDocument> {
    return this.inTime(async (signal) => {
      const answer = await httpGet(this.options.base + request, signal);
      const text = await wholeText(answer, LONGEST_DOCUMENT_BYTES, this.options.onBytes);
      return this.read(text, answer);
    });
  }

  /**
   * Documents as the agent sends them, until it ends, `signal` ends it, or nothing is sent in answer. An agent
   * that answers with one document instead gives that.
   */
  async *stream(request: string, signal: AbortSignal): AsyncIterable<MtconnectDocument> {
    const both = AbortSignal.any([signal, this.options.signal]);
    try {
      const answer = await httpGet(this.options.base + request, both);
      const boundary = boundaryOf(answer.contentType);
      if (boundary === null) {
        const text = await wholeText(answer, LONGEST_DOCUMENT_BYTES, this.options.onBytes);
        yield this.read(text, answer);
        return;
      }
      const cutter = new PartCutter(boundary, LONGEST_DOCUMENT_BYTES);
      for await (const piece of answer.pieces) {
        this.options.onBytes(piece.length);
        for (const cut of cutter.feed(piece)) {
          if (cut.kind === 'too long') throw new TooLong();
          yield this.read(cut.text, answer);
        }
      }
    } catch (error) {
      throw this.explained(error);
    }
  }

  private async inTime<T>(work: (signal: AbortSignal) => Promise<T>): Promise<T> {
    const late = new AbortController();
    const timer = new OneTimer(this.options.clock);
    timer.set(ANSWER_WITHIN_MS, () => late.abort(new NoAnswer()));
    try {
      return await work(AbortSignal.any([late.signal, this.options.signal]));
    } catch (error) {
      throw late.signal.aborted ? new NoAnswer() : this.explained(error);
    } finally {
      timer.clear();
    }
  }

  private read(text: string, { status }: HttpAnswer): MtconnectDocument {
    const document = readDocument(text);
    if (document.kind !== 'not understood') return document;
    const start = text.slice(0, 200).replace(/\s+/g, ' ').trim();
    this.options.onText(start);
    const why = status >= 400 ? `the answer ${status}` : document.why;
    throw new AgentTrouble(notMtconnectFault(this.names(), why, start));
  }

  private explained(error: unknown): unknown {
    if (error instanceof AgentTrouble || error instanceof NoAnswer) return error;
    if (error instanceof TooLong) {
      return new AgentTrouble(tooLongAnswerFault(this.names(), LONGEST_DOCUMENT_BYTES));
    }
    if (error instanceof Redirected) {
      return new AgentTrouble(redirectedFault(this.names(), error.message));
    }
    if (error instanceof NotHttp) {
      return new AgentTrouble(notMtconnectFault(this.names(), error.message, ''));
    }
    const untrusted = certificateFault(this.names(), error);
    if (untrusted) return new AgentTrouble(untrusted);
    const fault = explainPortError(error, { title: this.options.base, system: process.platform });
    return new AgentTrouble({ ...fault, remedy: REMEDIES[fault.code] ?? fault.remedy });
  }

  /** An error document in the user's words. */
  refusal(code: string, text: string): AgentTrouble {
    return new AgentTrouble(agentRefusedFault(this.names(), code, text));
  }

  private names() {
    return { device: this.options.device, title: this.options.base };
  }
}
