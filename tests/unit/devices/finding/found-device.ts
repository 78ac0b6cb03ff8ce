import type { LengthUnit, LineShape, PortSettings } from '@taptrue/protocol';
import { FindDevice, type FindNow } from '@taptrue/server/devices/finding/find-device.ts';
import type { Consent } from '@taptrue/server/devices/finding/search.ts';
import {
  type ControlLines,
  TRIED_ON_SERIAL,
  type Tried,
  type Tuning,
} from '@taptrue/server/devices/finding/settings-tried.ts';
import { SHAPES } from '@taptrue/server/devices/formats/shape-table.ts';
import { MemoryTransport } from '@taptrue/server/devices/transport/memory.ts';
import type { MemoryPipe } from '@taptrue/server/devices/transport/transport.ts';
import { SimulatedDevice } from '@taptrue/simulators/device.ts';
import { WiredDevice } from '@taptrue/simulators/wired-device.ts';
import type { ErrorHandling } from '@taptrue/simulators/wrong-settings.ts';
import type { OneClock } from './one-clock.ts';

/** A usual port without anything said about it. */
const USUAL: PortSettings = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 };

export interface Wanted {
  shape: LineShape;
  settings: PortSettings;
  readingsPerSecond: number;
  wakes?: (lines: ControlLines) => boolean;
  errors?: ErrorHandling;
  echoes?: boolean;
  unit?: LengthUnit;
  decimals?: number;
  channel?: string | null;
  seed?: number;
}

/** The reading moves a little, as an indicator's does while a table is traversed. */
export function measureOf(nowMs: number): number {
  return 0.1234 + 0.0371 * Math.sin(nowMs / 700);
}

export function wiredDevice(wanted: Wanted, clock: OneClock) {
  const { shape, settings, readingsPerSecond, wakes, errors, echoes } = wanted;
  const device = new SimulatedDevice({
    shape,
    measure: (nowMs) => ({ value: measureOf(nowMs), status: 'ok' }),
    unit: wanted.unit ?? 'in',
    decimals: wanted.decimals ?? 4,
    channel: wanted.channel ?? null,
    readingsPerSecond,
    clock,
    seed: wanted.seed ?? 1,
  });
  const wired = new WiredDevice({
    device,
    settings,
    clock,
    ...(wakes && { wakes }),
    ...(errors && { errors }),
    ...(echoes && { echoes }),
  });
  return { device, wired };
}

export interface SearchSetup {
  clock: OneClock;
  pipeFor: (tuning: Tuning, settings: PortSettings) => MemoryPipe;
  consent?: Consent;
  shapes?: readonly LineShape[];
  waitForKeyMs?: number;
  tried?: Tried;
}

/** A search on a port in memory, begun. */
export function searchOn(setup: SearchSetup) {
  const { clock, pipeFor } = setup;
  const seen: FindNow[] = [];
  const find = new FindDevice({
    title: 'the test port',
    tried: setup.tried ?? TRIED_ON_SERIAL,
    transportFor: (tuning) =>
      new MemoryTransport({
        title: 'the test port',
        pipe: pipeFor(tuning, tuning.settings ?? USUAL),
        now: () => clock.now(),
      }),
    shapes: setup.shapes ?? SHAPES,
    clock,
    consent: setup.consent ?? 'refused',
    waitForKeyMs: setup.waitForKeyMs ?? 0,
    onChange: (now) => seen.push(now),
  });
  const startMs = clock.now();
  find.start();
  return { find, seen, tookMs: () => clock.now() - startMs };
}

/** Lets time pass until `done` or the limit; promises that are due are kept in between. */
export async function passUntil(
  clock: OneClock,
  limitMs: number,
  done: () => boolean,
): Promise<void> {
  const endMs = clock.now() + limitMs;
  while (!done() && clock.now() < endMs) {
    clock.advance(20);
    await Promise.resolve();
    await Promise.resolve();
    await Promise.resolve();
  }
}
