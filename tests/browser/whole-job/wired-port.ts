import type { LineShape, PortSettings } from '@taptrue/protocol';
import type { OpenSerial } from '@taptrue/server/devices/transport/maker-for.ts';
import { MemoryTransport } from '@taptrue/server/devices/transport/memory.ts';
import { REAL_CLOCK } from '@taptrue/simulators/clock.ts';
import { SimulatedDevice } from '@taptrue/simulators/device.ts';
import { WiredDevice } from '@taptrue/simulators/wired-device.ts';

export const PORT = '/dev/ttyS91';
/** So long its screen stands still: a person has time to compare. */
const STANDS_MS = 4000;

export interface WiredPort {
  openSerial: OpenSerial;
  /** What its screen says now, in its unit. */
  screen(): number;
}

/**
 * A device with speed and parity of its own at the end of a lead in memory, ten readings a second: whoever listens
 * with other settings hears what a port set so would hear.
 */
export function wiredPort(shape: LineShape, settings: PortSettings): WiredPort {
  const screen = () => {
    const step = Math.floor(REAL_CLOCK.nowMs() / STANDS_MS) % 7;
    return Number((0.0125 - 0.0041 * step).toFixed(4));
  };
  const device = new SimulatedDevice({
    shape,
    measure: () => ({ value: screen(), status: 'ok' }),
    unit: 'mm',
    decimals: 4,
    channel: null,
    readingsPerSecond: 10,
    clock: REAL_CLOCK,
    seed: 5,
  });
  const wired = new WiredDevice({ device, settings, clock: REAL_CLOCK });
  return {
    screen,
    openSerial: (port) =>
      new MemoryTransport({
        title: port.path,
        pipe: wired.pipe(port.settings, port.signals),
        now: port.now,
      }),
  };
}
