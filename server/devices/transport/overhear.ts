import type { TransportMaker } from './transport.ts';

/** The same transports, with everything that is received also given to `onBytes`, after it was read. */
export function overhear(
  maker: TransportMaker,
  onBytes: (chunk: Uint8Array, atMs: number) => void,
): TransportMaker {
  return () => {
    const transport = maker();
    return {
      // Asked every time: a port that is shared, or looked for by its device, has its name only once it is open.
      get title() {
        return transport.title;
      },
      open: (events) =>
        transport.open({
          opened: (atMs) => events.opened(atMs),
          bytes: (chunk, atMs) => {
            events.bytes(chunk, atMs);
            onBytes(chunk, atMs);
          },
          closed: (fault, atMs) => events.closed(fault, atMs),
        }),
      write: (bytes) => transport.write(bytes),
      close: () => transport.close(),
    };
  };
}
