import type { LeadSigns } from './over-memory.ts';
import type { ControlLines } from './wired-device.ts';

type Status = NonNullable<LeadSigns['status']>;

const OFF: Status = { cts: false, dsr: false, dcd: false };

/** A lead: when the device behind it has power, and what the port's status lines show. */
export interface Lead {
  wakes(lines: ControlLines): boolean;
  leadSigns(lines: ControlLines): LeadSigns;
}

function lead(
  wakes: (lines: ControlLines) => boolean,
  status: (lines: ControlLines) => Status | null,
  setsLines = true,
): Lead {
  return { wakes, leadSigns: (lines) => ({ setsLines, status: status(lines) }) };
}

/** True where one line is up and the other down: the voltage across them that a lead without a battery lives on. */
export function isAcross({ dtr, rts }: ControlLines): boolean {
  return dtr && !rts;
}

/** Leads as they are met, each behind a port that reads its status lines unless it says otherwise. */
export const LEADS = {
  /** A supply of its own, all wires: the device holds DSR on. */
  ownSupply: lead(
    () => true,
    () => ({ ...OFF, dsr: true }),
  ),
  /** Opto-isolated, fed by DTR up and RTS down, three data wires: nothing on the status lines. */
  fedDataWires: lead(isAcross, () => OFF),
  /** The same with DSR switched by the fed side. */
  fedAllWires: lead(isAcross, (lines) => ({ ...OFF, dsr: isAcross(lines) })),
  /** The same on an adapter that drives neither line: no power, whatever is asked for. */
  fedWithoutPower: lead(
    () => false,
    () => OFF,
  ),
  /** DTR bridged to DSR and DCD, RTS to CTS, in the plug. */
  bridged: lead(
    () => true,
    ({ dtr, rts }) => ({ cts: rts, dsr: dtr, dcd: dtr }),
  ),
  /** A port that reads no status lines, as a pseudo-terminal. */
  cannotBeRead: lead(
    () => true,
    () => null,
  ),
  /** A port that refuses to set DTR and RTS as well. */
  refusesLines: lead(
    () => false,
    () => null,
    false,
  ),
} as const satisfies Record<string, Lead>;
