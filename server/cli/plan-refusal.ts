import { faultLine } from '@taptrue/protocol';
import type { Planned } from '../plan/plan-fault.ts';
import { Refusal } from './command.ts';

/** The value, or the refusal with the option it came from. */
export function planned<T>(result: Planned<T>): T {
  if (result.ok) return result.value;
  throw new Refusal(`${result.field}: ${faultLine(result.fault)}`);
}
