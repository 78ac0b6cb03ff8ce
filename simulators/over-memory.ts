import type { SimulatedDevice } from './device.ts';

/** A byte pipe in memory, the same on every system: what the service is given instead of a port. */
export interface MemoryPipe {
  attach(onBytes: (chunk: Uint8Array) => void, onGone: () => void): void;
  detach(): void;
  send(bytes: Uint8Array): void;
}

export function overMemory(device: SimulatedDevice): MemoryPipe {
  return {
    attach: (onBytes, onGone) => device.attach(onBytes, onGone),
    detach: () => device.detach(),
    send: (bytes) => device.hear(bytes),
  };
}
