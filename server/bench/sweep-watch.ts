import {
  type Caution,
  formatLength,
  isUsable,
  type LengthUnit,
  type LinkName,
  type LinkReport,
  type Reading,
  type Setup,
} from '@taptrue/protocol';
import { DigitsWatch } from './digits-watch.ts';
import { JumpWatch } from './jump-watch.ts';
import { UnitWatch } from './unit-watch.ts';

/** A readout of 0.005 mm trembles by two steps, and a locked saddle gives as much; beyond it has moved. */
export const SADDLE_LIMIT_MM = 0.02;

/**
 * What happens to the devices while a sweep is taken and makes its line doubtful: the other axis moves, or a
 * unit is switched. Noticed once a sweep, told on that sweep, never put right in silence. Pure.
 */
export class SweepWatch {
  readonly #units = {
    indicator: new UnitWatch('indicator'),
    readout: new UnitWatch('readout'),
  };
  readonly #beingTaken: () => number | null;
  readonly #notice: (caution: Caution) => void;
  #jumps = new JumpWatch();
  readonly #digits = new DigitsWatch();
  /** The sweep whose positions are watched: what the table did before it belongs to no line. */
  #jumpsOf: number | null = null;
  #sweep: number | null = null;
  #otherAxisFromMm: number | null = null;
  #noticed = new Set<string>();

  /** @param beingTaken number of the sweep being taken; null: none is. */
  constructor(beingTaken: () => number | null, notice: (caution: Caution) => void) {
    this.#beingTaken = beingTaken;
    this.#notice = notice;
  }

  reading(
    link: LinkName,
    reading: Reading,
    { displayUnit, way }: Pick<Setup, 'displayUnit' | 'way'>,
  ): void {
    // Only where the readout gives the places: a table put to the next station belongs to no line.
    if (link === 'readout' && way === 'readout' && isUsable(reading))
      this.#position(reading, displayUnit);
    if (link === 'indicator' && isUsable(reading) && this.#digits.push(reading.decimals)) {
      this.#once({
        code: 'unit-switched',
        text: `The indicator went over to ${reading.decimals} decimals while this sweep was taken, as it does where its unit is switched. What came after may be in another unit: nothing is tapped by this sweep. Check the unit and sweep again.`,
      });
    }
    const unit = this.#units[link];
    const stood = unit.faults().length > 0;
    unit.reading(reading);
    const [fault] = unit.faults();
    if (!fault || stood) return;
    this.#once({ code: 'unit-switched', text: `${fault.what} Sweep again.` });
  }

  /** A reading of the readout's other axis: across the swept edge it must stand still. */
  otherAxis(reading: Reading, displayUnit: LengthUnit): void {
    if (!isUsable(reading)) return;
    const sweep = this.#beingTaken();
    if (this.#sweep !== sweep || this.#otherAxisFromMm === null) {
      this.#begin(sweep);
      this.#otherAxisFromMm = reading.valueMm;
      return;
    }
    const movedMm = reading.valueMm - this.#otherAxisFromMm;
    if (Math.abs(movedMm) <= SADDLE_LIMIT_MM) return;
    this.#once({
      code: 'saddle-moved',
      text: `The other axis (${reading.channel ?? 'second channel'}) moved by ${formatLength(Math.abs(movedMm), displayUnit)} while this sweep was taken: its line is bent or stepped by that. Lock it and sweep again.`,
    });
  }

  /** A device whose line names its unit was switched: its readings are refused from there on. */
  report(link: LinkName, report: LinkReport): void {
    if (report.fault?.code !== 'unit-changed') return;
    this.#once({
      code: 'unit-switched',
      text: `The unit was switched on the ${link} while this sweep was taken; what came after is missing. Sweep again.`,
    });
  }

  #position(reading: Reading & { valueMm: number }, unit: LengthUnit): void {
    const sweep = this.#beingTaken();
    if (sweep === null) return;
    if (sweep !== this.#jumpsOf) {
      this.#jumpsOf = sweep;
      this.#jumps = new JumpWatch();
    }
    const jump = this.#jumps.push(reading.valueMm, reading.atMs);
    if (!jump) return;
    const [from, to] = [jump.fromMm, jump.toMm].map((mm) => formatLength(mm, unit));
    this.#once({
      code: 'position-jumped',
      text: `The readout jumped from ${from} to ${to} in ${Math.round(jump.withinMs)} ms, which no table does: its count was reset, lost or read wrongly. Places before and after do not belong together, so nothing is tapped by this sweep and nothing is true by it. Check the readout and its marks, and sweep again.`,
    });
  }

  #once(caution: Caution): void {
    const sweep = this.#beingTaken();
    if (sweep === null) return;
    if (this.#sweep !== sweep) this.#begin(sweep);
    if (this.#noticed.has(caution.code)) return;
    this.#noticed.add(caution.code);
    this.#notice(caution);
  }

  #begin(sweep: number | null): void {
    this.#sweep = sweep;
    this.#otherAxisFromMm = null;
    this.#noticed = new Set();
  }
}
