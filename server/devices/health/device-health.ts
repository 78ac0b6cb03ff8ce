import type { Fault, FaultCode, LinkName, LinkReport, Reading } from '@taptrue/protocol';
import { UnitWatch } from '../../bench/unit-watch.ts';
import { FlapWatch } from './flap-watch.ts';
import { SleepWatch } from './sleep-watch.ts';
import { StatusWatch } from './status-watch.ts';

/** What changed: faults that are new, and codes of faults that are over. */
export interface HealthChange {
  raised: Fault[];
  over: FaultCode[];
}

const NOTHING: HealthChange = { raised: [], over: [] };

/**
 * The health of one device, told and never put right in silence: what it says of itself, a unit switched
 * under way, a device that switches itself off, or comes and goes. Each fault is told once, when it begins. Pure.
 */
export class DeviceHealth {
  readonly #status: StatusWatch;
  readonly #unit: UnitWatch;
  readonly #sleep: SleepWatch;
  readonly #flaps: FlapWatch;
  #standing = new Set<FaultCode>();

  constructor(device: LinkName) {
    this.#status = new StatusWatch(device);
    this.#unit = new UnitWatch(device);
    this.#sleep = new SleepWatch(device);
    this.#flaps = new FlapWatch(device);
  }

  reading(reading: Reading, trigger: LinkReport['trigger']): HealthChange {
    this.#status.reading(reading, trigger === 'its own key');
    this.#unit.reading(reading);
    this.#sleep.reading(reading);
    return this.#change();
  }

  report({ state }: Pick<LinkReport, 'state'>, atMs: number): HealthChange {
    this.#sleep.state(state);
    this.#flaps.state(state, atMs);
    return this.#change();
  }

  /** Another device takes its place: what stands of this one is over. */
  end(): HealthChange {
    const over = [...this.#standing];
    this.#standing = new Set();
    return { raised: [], over };
  }

  #change(): HealthChange {
    const watches = [this.#status, this.#unit, this.#sleep, this.#flaps];
    const faults = watches.flatMap((watch) => watch.faults());
    if (faults.length === 0 && this.#standing.size === 0) return NOTHING;
    const now = new Set(faults.map(({ code }) => code));
    const change = {
      raised: faults.filter(({ code }) => !this.#standing.has(code)),
      over: [...this.#standing].filter((code) => !now.has(code)),
    };
    this.#standing = now;
    return change;
  }
}
