import type { RegisterRead } from '@taptrue/protocol';
import { registersOf } from './registers.ts';

/** One number of an answer: which axis it is, and where in the answer it stands. */
export interface Wanted {
  /** The address as text: the tag of the axis. */
  channel: string;
  address: number;
  offsetBytes: number;
}

/** One request: registers that stand side by side. */
export interface RegisterBlock {
  address: number;
  count: number;
  wanted: readonly Wanted[];
}

/**
 * The requests of one round. Two axes whose registers touch come in one answer, taken at one moment; others
 * are asked one after the other, since a device refuses a block that has a register in it that it lacks. Pure.
 */
export function planReads(read: RegisterRead, secondAddress: number | null): RegisterBlock[] {
  const size = registersOf(read.form);
  const block = (...addresses: number[]): RegisterBlock => {
    const first = Math.min(...addresses);
    return {
      address: first,
      count: Math.max(...addresses) + size - first,
      wanted: addresses.map((address) => ({
        channel: String(address),
        address,
        offsetBytes: 2 * (address - first),
      })),
    };
  };
  if (secondAddress === null || secondAddress === read.address) return [block(read.address)];
  return Math.abs(secondAddress - read.address) <= size
    ? [block(read.address, secondAddress)]
    : [block(read.address), block(secondAddress)];
}
