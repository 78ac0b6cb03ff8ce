import type { Fault, LinkName, LinkState } from '@taptrue/protocol';

/** Lost so often within a minute is no cable being plugged: someone who tries plugs needs longer for each. */
const LEAST_LOSSES = 5;
const WITHIN_MS = 60_000;

/** Notices a device that connects and drops, again and again. Over once it has held for a minute. Pure. */
export class FlapWatch {
  readonly #device: LinkName;
  #lossesAtMs: number[] = [];
  #last: LinkState = 'not set';
  #stands = false;

  constructor(device: LinkName) {
    this.#device = device;
  }

  state(state: LinkState, atMs: number): void {
    this.#lossesAtMs = this.#lossesAtMs.filter((ms) => atMs - ms < WITHIN_MS);
    if (state === 'lost' && this.#last !== 'lost') {
      this.#lossesAtMs.push(atMs);
      if (this.#lossesAtMs.length > LEAST_LOSSES) this.#lossesAtMs.shift();
    }
    this.#last = state;
    if (this.#lossesAtMs.length >= LEAST_LOSSES) this.#stands = true;
    else if (this.#lossesAtMs.length === 0) this.#stands = false;
  }

  faults(): Fault[] {
    if (!this.#stands) return [];
    return [
      {
        code: 'comes-and-goes',
        what: `The ${this.#device} connects and drops, again and again.`,
        got: `lost ${LEAST_LOSSES} times within a minute`,
        remedy:
          'Push its plug home, try another cable and another socket without a hub between, and see to its supply. It is tried again by itself.',
      },
    ];
  }
}
