import type { LineShape, LinkConfig, LinkName } from '@taptrue/protocol';
import type { Clock } from './clock.ts';
import { LineSource } from './line-source.ts';
import { makerFor } from './maker-for.ts';
import type { ReadingSource } from './source.ts';
import type { MemoryPipe, TransportMaker } from './transport.ts';

export interface SourceForOptions {
  name: LinkName;
  config: LinkConfig;
  shape: LineShape;
  clock: Clock;
  /** Asked anew at every try, so that a simulated device may come and go. */
  simulatedPipes: (device: LinkName) => MemoryPipe;
  /** Another maker of transports made of the one there is: to overhear its bytes. */
  through?: (maker: TransportMaker) => TransportMaker;
}

/** Where the readings of a link come from, by what its config says. */
export function sourceFor(options: SourceForOptions): ReadingSource {
  const { name, config, shape, clock, simulatedPipes, through = (maker) => maker } = options;
  const maker = through(makerFor(config.source, shape, simulatedPipes, () => clock.now()));
  return new LineSource({ name, config, shape, clock, maker });
}
