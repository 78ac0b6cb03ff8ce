import type { LineBytesSource, LineShape, LinkName } from '@taptrue/protocol';
import { findPorts } from './find-ports.ts';
import { MemoryTransport } from './memory.ts';
import { type SerialOptions, SerialTransport } from './serial.ts';
import { SerialByIdentity } from './serial-by-identity.ts';
import { TcpTransport } from './tcp.ts';
import type { MemoryPipe, Transport, TransportMaker } from './transport.ts';

/** Opens a serial port. */
export type OpenSerial = (options: SerialOptions) => Transport;

/** One of this computer. */
export const openSerialHere: OpenSerial = (options) => new SerialTransport(options);

/**
 * How fresh transports of this source are made. Port settings are the shape's unless the source has its
 * own. `simulatedPipes` is asked anew at every try, so that a simulated device may come and go.
 */
export function makerFor(
  source: LineBytesSource,
  shape: Pick<LineShape, 'port' | 'signals'>,
  simulatedPipes: (device: LinkName) => MemoryPipe,
  now: () => number = () => performance.now(),
  openSerial: OpenSerial = openSerialHere,
): TransportMaker {
  switch (source.kind) {
    case 'serial':
      return () =>
        new SerialByIdentity({
          source,
          // Asked anew at every try: a device that came back may have another name.
          ports: async () => (source.identity === undefined ? [] : findPorts()),
          open: (path) =>
            openSerial({
              path,
              settings: source.settings ?? shape.port,
              signals: source.lines ?? shape.signals,
              now,
            }),
          now,
        });
    case 'tcp':
      return () => new TcpTransport({ host: source.host, port: source.port, now });
    case 'simulated':
      return () =>
        new MemoryTransport({
          title: `the simulated ${source.device}`,
          pipe: simulatedPipes(source.device),
          now,
        });
  }
}
