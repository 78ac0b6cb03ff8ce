import type { SimulatorClock } from './clock.ts';
import type { MemoryPipe } from './over-memory.ts';
import { Dice } from './random.ts';

const HANDED_OVER_EVERY_MS = 4;

/** Every byte alike, or only characters that print and line ends: chatter that looks like text. */
export type NoiseKind = 'any byte' | 'printing characters';

/** An open line that picks up noise: bytes of chance, so many a second on the average. Never a reading. */
export function noisyLine(
  options: { bytesPerSecond: number; kind: NoiseKind; seed: number },
  clock: SimulatorClock,
): MemoryPipe {
  const dice = new Dice(options.seed);
  const perTurn = (options.bytesPerSecond * HANDED_OVER_EVERY_MS) / 1000;
  let stop = (): void => undefined;
  const one = (): number => {
    if (options.kind === 'any byte') return dice.below(256);
    const drawn = dice.below(97);
    return drawn === 95 ? 0x0d : drawn === 96 ? 0x0a : 0x20 + drawn;
  };
  return {
    attach: (onBytes) => {
      stop = clock.every(HANDED_OVER_EVERY_MS, () => {
        const now = Math.floor(perTurn) + (dice.happens(perTurn % 1) ? 1 : 0);
        if (now > 0) onBytes(Uint8Array.from({ length: now }, one));
      });
    },
    detach: () => stop(),
    send: () => undefined,
  };
}
