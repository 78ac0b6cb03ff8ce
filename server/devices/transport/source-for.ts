import { hasLines, type LineShape, type LinkConfig, type LinkName } from '@taptrue/protocol';
import type { Clock } from './clock.ts';
import { LineSource } from './line-source.ts';
import type { LineTurn } from './line-turns.ts';
import { makerFor, type OpenSerial, openSerialHere } from './maker-for.ts';
import { ModbusSource } from './modbus/modbus-source.ts';
import { MODBUS_PORT } from './modbus/usual-port.ts';
import { RtuWire } from './modbus/wire-rtu.ts';
import { TcpWire } from './modbus/wire-tcp.ts';
import { MtconnectSource } from './mtconnect/mtconnect-source.ts';
import type { ReadingSource } from './source.ts';
import type { MemoryPipe, TransportMaker } from './transport.ts';

export interface SourceForOptions {
  name: LinkName;
  config: LinkConfig;
  /** The line shape of the config; null where its source has no lines. */
  shape: LineShape | null;
  clock: Clock;
  /** Asked anew at every try, so that a simulated device may come and go. */
  simulatedPipes: (device: LinkName) => MemoryPipe;
  /** Another maker of transports made of the one there is: to overhear its bytes. */
  through?: (maker: TransportMaker) => TransportMaker;
  /** A device that is asked has its turn on the line through this, where another may be asked there too. */
  turnOn?: (holdsMs: number) => LineTurn;
  /** Left out: a port of this computer. */
  openSerial?: OpenSerial;
}

/** Where the readings of a link come from, by what its config says. Throws where a line shape is wanting. */
export function sourceFor(options: SourceForOptions): ReadingSource {
  const { name, config, shape, clock, simulatedPipes, through = (maker) => maker } = options;
  const { openSerial = openSerialHere } = options;
  const { source } = config;
  const now = () => clock.now();
  if (hasLines(source)) {
    if (shape === null) throw new Error(`The source of the ${name} has lines, and no line shape.`);
    const maker = through(makerFor(source, shape, simulatedPipes, now, openSerial));
    return new LineSource({ name, config, shape, clock, maker });
  }
  switch (source.kind) {
    case 'modbus tcp': {
      const { kind: _kind, read, ...place } = source;
      const maker = through(makerFor({ kind: 'tcp', ...place }, MODBUS_PORT, simulatedPipes, now));
      return new ModbusSource({
        name,
        config,
        read,
        clock,
        maker,
        wire: new TcpWire(),
        serial: false,
      });
    }
    case 'modbus rtu': {
      const { kind: _kind, read, ...port } = source;
      const maker = through(
        makerFor({ kind: 'serial', ...port }, MODBUS_PORT, simulatedPipes, now, openSerial),
      );
      return new ModbusSource({
        name,
        config,
        read,
        clock,
        maker,
        wire: new RtuWire(),
        serial: true,
        ...(options.turnOn && { turnOn: options.turnOn }),
      });
    }
    case 'mtconnect':
      return new MtconnectSource({ name, config, source, clock });
  }
}
