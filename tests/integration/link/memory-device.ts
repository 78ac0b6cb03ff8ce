import type { MemoryPipe } from '@taptrue/server/devices/transport/transport.ts';
import type { Device } from './device.ts';

export async function memoryDevice(): Promise<Device> {
  let heard = '';
  let plugged = true;
  let deliver: ((chunk: Uint8Array) => void) | null = null;
  let gone: (() => void) | null = null;
  const pipe: MemoryPipe = {
    attach(onBytes, onGone) {
      if (!plugged) {
        onGone();
        return;
      }
      deliver = onBytes;
      gone = onGone;
    },
    detach() {
      deliver = null;
      gone = null;
    },
    send(bytes) {
      heard += Buffer.from(bytes).toString('latin1');
    },
  };
  return {
    source: { kind: 'simulated', device: 'indicator' },
    pipe,
    send: (text) => deliver?.(Buffer.from(text, 'latin1')),
    async unplug() {
      plugged = false;
      gone?.();
    },
    async replug() {
      plugged = true;
      heard = '';
    },
    heard: () => heard,
    stop: async () => undefined,
  };
}
