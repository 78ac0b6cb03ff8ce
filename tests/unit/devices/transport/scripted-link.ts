import type { Fault, FaultCode, LinkConfig, LinkReport, Reading } from '@taptrue/protocol';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { LineSource } from '@taptrue/server/devices/transport/line-source.ts';
import type { Transport, TransportEvents } from '@taptrue/server/devices/transport/transport.ts';
import { FakeClock } from './fake-clock.ts';

/** A transport that a test speaks through. */
export class ScriptedTransport implements Transport {
  readonly title = '/dev/scripted';
  events!: TransportEvents;
  written = '';
  closedByLink = false;

  constructor(private readonly onOpen: (transport: ScriptedTransport) => void) {}

  open(events: TransportEvents): void {
    this.events = events;
    this.onOpen(this);
  }

  write(bytes: Uint8Array): void {
    this.written += Buffer.from(bytes).toString('latin1');
  }

  async close(): Promise<void> {
    this.closedByLink = true;
  }
}

export const fault = (code: FaultCode): Fault => ({ code, what: code, got: '', remedy: 'none' });

/** One link on a scripted transport and a clock of its own. `opens` decides what each try does. */
export function scriptedLink(
  shapeName: string,
  config: Partial<LinkConfig> = {},
  opens: (transport: ScriptedTransport, clock: FakeClock) => void = (transport, clock) =>
    transport.events.opened(clock.now()),
) {
  const clock = new FakeClock();
  const shape = shapeNamed(shapeName)!;
  const tries: ScriptedTransport[] = [];
  const triedAtMs: number[] = [];
  const readings: Reading[] = [];
  const second: Reading[] = [];
  const reports: LinkReport[] = [];
  const whole: LinkConfig = {
    source: { kind: 'serial', path: '/dev/scripted', settings: null },
    shape: shapeName,
    unit: 'in',
    channel: null,
    ...config,
  };
  const maker = () => {
    const transport = new ScriptedTransport((opened) => opens(opened, clock));
    tries.push(transport);
    triedAtMs.push(clock.now());
    return transport;
  };
  const link = new Link({
    name: 'indicator',
    config: whole,
    source: new LineSource({ name: 'indicator', config: whole, maker, shape, clock }),
    clock,
    onReading: (reading) => readings.push(reading),
    onSecond: (reading) => second.push(reading),
    onReport: (report) => reports.push(report),
  });
  const say = (text: string) =>
    tries.at(-1)!.events.bytes(Buffer.from(text, 'latin1'), clock.now());
  const unplug = (code: FaultCode = 'port-gone') =>
    tries.at(-1)!.events.closed(fault(code), clock.now());
  return { link, clock, tries, triedAtMs, readings, second, reports, say, unplug };
}
