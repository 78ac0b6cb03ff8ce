import type { SimulatorClock } from '@taptrue/simulators/clock.ts';
import { FakeClock } from '../transport/fake-clock.ts';

/** One time for the device and for the search that listens to it. */
export class OneClock extends FakeClock implements SimulatorClock {
  nowMs(): number {
    return this.now();
  }

  every(periodMs: number, run: () => void): () => void {
    let handle: unknown = null;
    const again = () => {
      handle = this.setTimeout(() => {
        again();
        run();
      }, periodMs);
    };
    again();
    return () => this.clearTimeout(handle);
  }
}
