import type { Fault, FaultCode } from '@taptrue/protocol';

/** A meaning the user may pick where what was typed can be read more than one way. */
export interface Meaning {
  text: string;
  says: string;
}

/** Input that is refused: which field, what was got, what would do. */
export interface PlanRefusal {
  ok: false;
  fault: Fault;
  field: string;
  meanings?: Meaning[];
}

export type Planned<T> = { ok: true; value: T } | PlanRefusal;

/** Refuses a field with a sentence, what was typed, and what would do. */
export function refuse(
  field: string,
  code: FaultCode,
  what: string,
  got: string,
  remedy: string,
  meanings?: Meaning[],
): PlanRefusal {
  const refusal: PlanRefusal = { ok: false, field, fault: { code, what, got, remedy } };
  return meanings ? { ...refusal, meanings } : refusal;
}
