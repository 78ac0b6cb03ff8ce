import Type from 'typebox';
import type { FaultCode } from './fault-codes.ts';

/**
 * Something the user must know: what happened, what was got, what to do, in the user's words.
 * The codes stand in the tables beside this file; the compiler refuses any other.
 */
export const Fault = Type.Object(
  {
    code: Type.Unsafe<FaultCode>(Type.String({ pattern: '^[a-z][a-z0-9-]*$' })),
    what: Type.String({ description: 'What happened, one sentence' }),
    got: Type.String({ description: 'What was received or typed, quoted; empty if nothing was' }),
    remedy: Type.String({ description: 'What to do, one or two sentences' }),
  },
  { additionalProperties: false },
);
export type Fault = Type.Static<typeof Fault>;

/** A fault as one line of text for a terminal. */
export function faultLine(fault: Fault): string {
  return [fault.what, fault.got && `Got: ${fault.got}.`, fault.remedy].filter(Boolean).join(' ');
}
