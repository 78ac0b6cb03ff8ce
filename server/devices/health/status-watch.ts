import type { Fault, LinkName, Reading, ReadingStatus } from '@taptrue/protocol';

/** A stylus that lifts off says "over range" for a moment, and a thumb on the wrong key "hold": no fault yet. */
export const STATUS_STANDS_MS = 1000;
/** A weak battery says so now and then before it says so always; it is over when it was not said this often. */
export const WELL_FOR_READINGS = 10;

type Told = Exclude<ReadingStatus, 'ok'>;

const SAYS: Readonly<Record<Told, (device: LinkName) => Omit<Fault, 'got'>>> = {
  hold: (device) => ({
    code: 'on-hold',
    what: `The ${device} is on hold: its number stands still whatever the stylus does. Nothing is measured.`,
    remedy: `Switch hold off on the ${device}.`,
  }),
  'peak mode': (device) => ({
    code: 'min-max-mode',
    what: `The ${device} shows its largest or smallest value, not where it stands. Nothing is measured.`,
    remedy: `Switch the ${device} back to normal reading (its MAX/MIN key).`,
  }),
  'over range': (device) => ({
    code: 'over-range',
    what: `The ${device} is out of its range. Nothing is measured.`,
    remedy:
      device === 'indicator'
        ? 'Bring the stylus to the work with some preload, or back it off its stop.'
        : 'Move the axis back into the range of its scale, or see to the scale.',
  }),
  error: (device) => ({
    code: 'device-error',
    what: `The ${device} says that something is wrong with it. Nothing is measured.`,
    remedy: `Look at its display. Switch it off and on, zero it, and do its nudge again.`,
  }),
  'low battery': (device) => ({
    code: 'low-battery',
    what: `The battery of the ${device} is low. It still measures, but may lose its zero or fall silent.`,
    remedy: 'Change the battery before the next sweep; zero it and do its nudge again afterwards.',
  }),
};

/** What a device says of itself with its readings, once it has said so for long enough to mean it. Pure. */
export class StatusWatch {
  readonly #device: LinkName;
  #since: { status: Told; atMs: number } | null = null;
  #standing: Fault | null = null;
  #battery: Fault | null = null;
  #wellFor = 0;

  constructor(device: LinkName) {
    this.#device = device;
  }

  /** @param byKey the device sends only when its key is pressed: once said is meant. */
  reading(reading: Reading, byKey: boolean): void {
    const { status } = reading;
    this.#watchBattery(reading);
    if (status === 'ok' || status === 'low battery') {
      this.#since = null;
      this.#standing = null;
      return;
    }
    if (this.#since?.status !== status) this.#since = { status, atMs: reading.atMs };
    const stands = byKey || reading.atMs - this.#since.atMs >= STATUS_STANDS_MS;
    if (stands) this.#standing = this.#fault(status, reading);
  }

  faults(): Fault[] {
    return [this.#standing, this.#battery].filter((fault) => fault !== null);
  }

  #watchBattery(reading: Reading): void {
    if (reading.status === 'low battery') {
      this.#wellFor = 0;
      this.#battery ??= this.#fault('low battery', reading);
      return;
    }
    this.#wellFor += 1;
    if (this.#wellFor >= WELL_FOR_READINGS) this.#battery = null;
  }

  #fault(status: Told, { text }: Reading): Fault {
    return { ...SAYS[status](this.#device), got: text };
  }
}
