import type { SimulatedDevice } from './device.ts';

/** What a port tells of the lead behind it: whether it sets DTR and RTS, and the lines the far end switches. */
export interface LeadSigns {
  setsLines: boolean;
  /** Null: the port cannot read them. */
  status: { cts: boolean; dsr: boolean; dcd: boolean } | null;
}

/** A byte pipe in memory, the same on every system: what the service is given instead of a port. */
export interface MemoryPipe {
  attach(onBytes: (chunk: Uint8Array) => void, onGone: () => void): void;
  detach(): void;
  send(bytes: Uint8Array): void;
  leadSigns?(): LeadSigns;
}

export function overMemory(device: SimulatedDevice): MemoryPipe {
  return {
    attach: (onBytes, onGone) => device.attach(onBytes, onGone),
    detach: () => device.detach(),
    send: (bytes) => device.hear(bytes),
  };
}
