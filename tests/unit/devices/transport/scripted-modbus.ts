import {
  type LinkConfig,
  type LinkReport,
  type Reading,
  type RegisterRead,
  usualRegisterRead,
} from '@taptrue/protocol';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { ModbusSource } from '@taptrue/server/devices/transport/modbus/modbus-source.ts';
import { withChecksum } from '@taptrue/server/devices/transport/modbus/wire.ts';
import { RtuWire } from '@taptrue/server/devices/transport/modbus/wire-rtu.ts';
import { TcpWire } from '@taptrue/server/devices/transport/modbus/wire-tcp.ts';
import { FakeClock } from './fake-clock.ts';
import { ScriptedTransport } from './scripted-link.ts';

/** A frame as it stands on a serial line, from its body in hex. */
export const rtu = (hex: string) => withChecksum(Buffer.from(hex.replaceAll(' ', ''), 'hex'));

/** A link to a Modbus device that a test speaks for; on a clock of its own. */
export function scriptedModbus(
  line: 'rtu' | 'tcp',
  change: Partial<RegisterRead> = {},
  more: Partial<LinkConfig> = {},
) {
  const clock = new FakeClock();
  const read = { ...usualRegisterRead(), ...change };
  const tries: ScriptedTransport[] = [];
  const readings: Reading[] = [];
  const second: Reading[] = [];
  const reports: LinkReport[] = [];
  const config: LinkConfig = {
    source:
      line === 'rtu'
        ? { kind: 'modbus rtu', path: '/dev/scripted', settings: null, read }
        : { kind: 'modbus tcp', host: 'scripted', port: 502, read },
    shape: '',
    unit: 'mm',
    channel: null,
    ...more,
  };
  const source = new ModbusSource({
    name: 'readout',
    config,
    read,
    maker: () => {
      const transport = new ScriptedTransport((opened) => opened.events.opened(clock.now()));
      tries.push(transport);
      return transport;
    },
    wire: line === 'rtu' ? new RtuWire() : new TcpWire(),
    serial: line === 'rtu',
    clock,
  });
  const link = new Link({
    name: 'readout',
    config,
    source,
    clock,
    onReading: (reading) => readings.push(reading),
    onSecond: (reading) => second.push(reading),
    onReport: (report) => reports.push(report),
  });
  const transport = () => tries.at(-1)!;
  /** What was asked since the last look, in hex. */
  const asked = () => {
    const hex = Buffer.from(transport().written, 'latin1').toString('hex').toUpperCase();
    transport().written = '';
    return hex;
  };
  const say = (bytes: Uint8Array) => transport().events.bytes(bytes, clock.now());
  return { link, clock, tries, readings, second, reports, asked, say, transport };
}
