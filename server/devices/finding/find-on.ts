import type { LineBytesSource, LineShape, LinkConfig, LinkName } from '@taptrue/protocol';
import type { Clock } from '../transport/clock.ts';
import { makerFor } from '../transport/maker-for.ts';
import { type SerialOptions, SerialTransport } from '../transport/serial.ts';
import type { MemoryPipe, Transport } from '../transport/transport.ts';
import type { Candidate } from './candidates.ts';
import { FindDevice, type FindNow } from './find-device.ts';
import { areUsual } from './find-words.ts';
import type { Consent } from './search.ts';
import {
  LINES_TRIED,
  TRIED_ON_SERIAL,
  TRIED_WITHOUT_SETTINGS,
  type Tuning,
} from './settings-tried.ts';

export interface FindOnOptions {
  source: LineBytesSource;
  shapes: readonly LineShape[];
  clock: Clock;
  consent: Consent;
  waitForKeyMs: number;
  simulatedPipes: (device: LinkName) => MemoryPipe;
  /** Opens a serial port; usual: one of this computer. */
  openSerial?: (options: SerialOptions) => Transport;
  onChange(now: FindNow): void;
}

/** Never read: a search sets the port itself. */
const NOTHING_SET = {
  port: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  signals: LINES_TRIED[0]!,
} as const satisfies Pick<LineShape, 'port' | 'signals'>;

/** The port, socket or simulated device as the user knows it. */
export function titleOf(source: LineBytesSource): string {
  switch (source.kind) {
    case 'serial':
      return source.path;
    case 'tcp':
      return `tcp://${source.host.includes(':') ? `[${source.host}]` : source.host}:${source.port}`;
    case 'simulated':
      return `the simulated ${source.device}`;
  }
}

/** A search on this source: through all settings on a serial port; elsewhere there are none to try. */
export function findOn(options: FindOnOptions): FindDevice {
  const { source, shapes, clock, consent, waitForKeyMs, onChange, simulatedPipes } = options;
  const { openSerial = (port: SerialOptions) => new SerialTransport(port) } = options;
  const now = () => clock.now();
  const transportFor = (tuning: Tuning): Transport => {
    if (source.kind !== 'serial' || tuning.settings === null) {
      return makerFor(source, NOTHING_SET, simulatedPipes, now)();
    }
    return openSerial({
      path: source.path,
      settings: tuning.settings,
      signals: tuning.lines,
      keepsLines: true,
      now,
    });
  };
  return new FindDevice({
    title: titleOf(source),
    tried: source.kind === 'serial' ? TRIED_ON_SERIAL : TRIED_WITHOUT_SETTINGS,
    transportFor,
    shapes,
    clock,
    consent,
    waitForKeyMs,
    onChange,
  });
}

/** The source with the settings it was heard with. */
export function heardAs(source: LineBytesSource, { settings, lines }: Tuning): LineBytesSource {
  if (source.kind !== 'serial') return source;
  return { ...source, settings, ...(!areUsual(lines) && { lines }) };
}

/** What a link is told in order to read this candidate. Control lines are named where the shape has others. */
export function configOf(
  source: LineBytesSource,
  { shape, unit, channel }: Candidate,
  { settings, lines }: Tuning,
): LinkConfig {
  const config = { shape: shape.name, unit, channel };
  if (source.kind !== 'serial') return { source, ...config };
  const { signals } = shape;
  const asShape = signals.dtr === lines.dtr && signals.rts === lines.rts;
  return { source: { ...source, settings, ...(!asShape && { lines }) }, ...config };
}
