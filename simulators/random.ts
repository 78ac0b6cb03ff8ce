/**
 * A seeded source of chance, as a value: every draw gives the number and the source for the next draw.
 * The simulators keep it in their state, so that the same seed and the same acts give the same bench, byte for byte.
 */
export interface Chance {
  readonly state: number;
}

/** The source for a seed; any finite number will do. */
export function chanceOf(seed: number): Chance {
  return { state: Math.trunc(seed) >>> 0 };
}

/**
 * Next number in [0, 1). A counter through a 32-bit mixer: period 2^32, which is more than a bench at
 * 100 readings/s and three draws a reading uses in five months.
 */
export function uniform(chance: Chance): [number, Chance] {
  const state = (chance.state + 0x9e3779b9) >>> 0;
  let mixed = state;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x21f0aaad);
  mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
  mixed = (mixed ^ (mixed >>> 15)) >>> 0;
  return [mixed / 4_294_967_296, { state }];
}

/** Next number of the normal distribution with mean 0 and standard deviation 1 (Box and Muller 1958). */
export function normal(chance: Chance): [number, Chance] {
  const [first, afterFirst] = uniform(chance);
  const [second, next] = uniform(afterFirst);
  const radius = Math.sqrt(-2 * Math.log(1 - first));
  return [radius * Math.cos(2 * Math.PI * second), next];
}

/** The same source with the state kept inside, for drawing many numbers in a row. */
export class Dice {
  #chance: Chance;

  constructor(seed: number) {
    this.#chance = chanceOf(seed);
  }

  /** In [0, 1). */
  uniform(): number {
    const [value, next] = uniform(this.#chance);
    this.#chance = next;
    return value;
  }

  /** In [from, to). */
  between(from: number, to: number): number {
    return from + (to - from) * this.uniform();
  }

  /** Normal with this mean and standard deviation. */
  normal(mean = 0, deviation = 1): number {
    const [value, next] = normal(this.#chance);
    this.#chance = next;
    return mean + deviation * value;
  }

  /** True with this probability. */
  happens(probability: number): boolean {
    return this.uniform() < probability;
  }

  /** Whole number in [0, count). */
  below(count: number): number {
    return Math.floor(this.uniform() * count);
  }

  /** A seed for another source that does not disturb this one's later draws with its own. */
  seed(): number {
    return this.below(4_294_967_296);
  }
}
