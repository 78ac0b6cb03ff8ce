import {
  type DemoAct,
  type DemoSection,
  type Fault,
  formatLength,
  fromMm,
  type LengthUnit,
  type LineShape,
  type LinkName,
  type Stage,
} from '@taptrue/protocol';
import { BAR_LENGTH_MM, type BenchBuild, buildBench, type Scenario } from './bench-build.ts';
import type { SimulatorClock } from './clock.ts';
import { SimulatedDevice } from './device.ts';
import { type IndicatorState, readIndicator, type Shown, zeroed } from './indicator.ts';
import { Dice } from './random.ts';
import { readoutMm } from './readout.ts';
import { isTraversing, type TableState, tableAtRest, tableMm, traverse } from './table.ts';
import { clamp, strike, surfaceMm, type ViseState } from './vise.ts';

/** How far the table goes, past either end of the bar by the width of the vise's cheeks. */
const TABLE_FROM_MM = -20;
const TABLE_TO_MM = 147;
/** A moving table is told of twenty times a second: smooth to the eye, nothing to the processor. */
const TABLE_TOLD_EVERY_MS = 50;

export interface DemoBenchOptions extends Scenario {
  clock: SimulatorClock;
  indicatorShape: LineShape;
  readoutShape: LineShape;
  indicatorPerSecond?: number;
  readoutPerSecond?: number;
}

export type ActAnswer = { ok: true; note: string } | { ok: false; fault: Fault };

/** One simulated bench: a vise under a mallet, a table, an indicator and a readout that speak bytes. */
export class DemoBench {
  readonly indicator: SimulatedDevice;
  readonly readout: SimulatedDevice;

  readonly #options: DemoBenchOptions;
  readonly #unit: LengthUnit;
  readonly #clock: SimulatorClock;
  readonly #listeners = new Set<() => void>();
  #dice: Dice;
  #build: BenchBuild;
  #vise: ViseState;
  #gauge: IndicatorState = { zeroMm: 0, heldMm: null };
  #table: TableState = tableAtRest(0);
  #saddleMm: number;
  readonly #mountedAtMs: number;
  #stopTelling: (() => void) | null = null;
  #lastEvent = 'The vise is nipped and out of true; the stylus stands at the left end.';

  constructor(options: DemoBenchOptions) {
    this.#options = options;
    this.#unit = options.unit ?? 'in';
    this.#clock = options.clock;
    this.#mountedAtMs = options.clock.nowMs();
    this.#dice = new Dice(options.seed);
    this.#build = buildBench({ ...options, seed: this.#dice.seed() });
    this.#vise = this.#build.startsAt;
    this.#saddleMm = this.#presetMm();
    const unit = this.#unit;
    const { clock } = options;
    this.indicator = new SimulatedDevice({
      shape: options.indicatorShape,
      measure: () => {
        const { shownMm, contact } = this.#read();
        const value = shownMm === null ? null : fromMm(shownMm, unit);
        return { value, status: contact === 'off the work' ? 'over range' : 'ok' };
      },
      unit,
      decimals: unit === 'in' ? 5 : 3,
      channel: null,
      readingsPerSecond: options.indicatorPerSecond ?? 50,
      clock,
      seed: this.#dice.seed(),
    });
    this.readout = new SimulatedDevice({
      shape: options.readoutShape,
      measure: () => ({
        value: fromMm(readoutMm(this.#build.readout, this.#xMm()), unit),
        status: 'ok',
      }),
      unit,
      decimals: unit === 'in' ? 4 : 3,
      channel: null,
      readingsPerSecond: options.readoutPerSecond ?? 20,
      clock,
      seed: this.#dice.seed(),
    });
  }

  device(name: LinkName): SimulatedDevice {
    return name === 'indicator' ? this.indicator : this.readout;
  }

  section(): DemoSection {
    return {
      tableMm: this.#xMm(),
      leftMm: 0,
      rightMm: BAR_LENGTH_MM,
      traversing: isTraversing(this.#table, this.#clock.nowMs()),
      stylusTouches: this.#surfaceMm() !== null,
      clamped: this.#vise.stage,
      lastEvent: this.#lastEvent,
    };
  }

  /** Calls back after every change a screen could show; gives the way to stop that. */
  onChange(changed: () => void): () => void {
    this.#listeners.add(changed);
    return () => this.#listeners.delete(changed);
  }

  act(asked: DemoAct): ActAnswer {
    switch (asked.act) {
      case 'table to':
        return this.#tableTo(asked.xMm);
      case 'traverse':
        return this.#traverse(asked.toMm, asked.mmPerSecond);
      case 'stop table':
        this.#table = tableAtRest(this.#xMm());
        return this.#done(`The table stands at ${this.#length(this.#xMm())}.`);
      case 'saddle':
        this.#saddleMm += asked.towardColumnMm;
        return this.#done(
          `The saddle moved the surface ${this.#length(Math.abs(asked.towardColumnMm))} ${asked.towardColumnMm < 0 ? 'toward the operator' : 'toward the column'}.`,
        );
      case 'strike':
        return this.#strike(asked);
      case 'send key':
        this.indicator.sendOne();
        return this.#done('The send key of the indicator was pressed.');
      case 'zero indicator':
        return this.#zero();
      case 'new vise':
        return this.#newVise();
    }
  }

  /** The clamps brought to a stage; each step turns the vise a little. */
  clamp(stage: Stage): void {
    if (stage === this.#vise.stage) return;
    this.#vise = clamp(this.#build.vise, this.#vise, stage, this.#dice);
    this.#done(`The clamps are ${stage} now.`);
  }

  close(): void {
    this.#stopTelling?.();
    this.#stopTelling = null;
    this.#listeners.clear();
    this.indicator.detach();
    this.readout.detach();
  }

  #xMm(): number {
    return tableMm(this.#table, this.#clock.nowMs());
  }

  #surfaceMm(): number | null {
    const heightMm = surfaceMm(this.#build.vise, this.#vise, this.#xMm());
    return heightMm === null ? null : heightMm + this.#saddleMm;
  }

  /** The stylus was brought to the left end and pressed about to the middle of its travel. */
  #presetMm(): number {
    const leftMm = surfaceMm(this.#build.vise, this.#vise, 0) ?? 0;
    return this.#dice.normal(0, 0.03) - leftMm;
  }

  #read(): Shown {
    const sinceMs = this.#clock.nowMs() - this.#mountedAtMs;
    const { indicator } = this.#build;
    const shown = readIndicator(indicator, this.#gauge, this.#surfaceMm(), sinceMs, this.#dice);
    this.#gauge = shown.state;
    return shown;
  }

  #length(mm: number): string {
    return formatLength(mm, this.#unit);
  }

  #done(event: string): ActAnswer {
    this.#lastEvent = event;
    // The stylus follows every move, whether or not anyone asks for a reading in between.
    this.#read();
    for (const changed of this.#listeners) changed();
    return { ok: true, note: event };
  }

  #beyondTable(xMm: number): ActAnswer | null {
    if (xMm >= TABLE_FROM_MM && xMm <= TABLE_TO_MM) return null;
    return {
      ok: false,
      fault: {
        code: 'demo-beyond-table',
        what: 'The simulated table does not go that far.',
        got: this.#length(xMm),
        remedy: `Choose a place from ${this.#length(TABLE_FROM_MM)} to ${this.#length(TABLE_TO_MM)}; the bar lies from 0 to ${this.#length(BAR_LENGTH_MM)}.`,
      },
    };
  }

  #tableTo(xMm: number): ActAnswer {
    const refused = this.#beyondTable(xMm);
    if (refused) return refused;
    this.#table = tableAtRest(xMm);
    return this.#done(`The stylus stands at ${this.#length(xMm)}.`);
  }

  #traverse(toMm: number, mmPerSecond: number): ActAnswer {
    const refused = this.#beyondTable(toMm);
    if (refused) return refused;
    const right = toMm > this.#xMm();
    this.#table = traverse(this.#table, toMm, mmPerSecond, this.#clock.nowMs());
    this.#stopTelling ??= this.#clock.every(TABLE_TOLD_EVERY_MS, () => this.#tellTable());
    return this.#done(`The stylus goes ${right ? 'right' : 'left'} to ${this.#length(toMm)}.`);
  }

  #tellTable(): void {
    if (!isTraversing(this.#table, this.#clock.nowMs())) {
      this.#stopTelling?.();
      this.#stopTelling = null;
    }
    for (const changed of this.#listeners) changed();
  }

  #strike(blow: Extract<DemoAct, { act: 'strike' }>): ActAnswer {
    if (this.#beyondTable(blow.xMm)) {
      return {
        ok: false,
        fault: {
          code: 'demo-mallet-misses',
          what: 'The mallet would miss the simulated vise there.',
          got: this.#length(blow.xMm),
          remedy: `Strike from ${this.#length(TABLE_FROM_MM)} to ${this.#length(TABLE_TO_MM)}.`,
        },
      };
    }
    const { xMm, way, blow: strength } = blow;
    const hit = strike(this.#build.vise, this.#vise, { xMm, way, strength }, this.#dice);
    this.#vise = hit.state;
    const effect = hit.turnedRad === 0 ? 'nothing moved' : 'it moved';
    return this.#done(
      `A ${strength} blow ${way === 'away' ? 'away' : 'toward the operator'} at ${this.#length(xMm)}: ${effect}.`,
    );
  }

  #zero(): ActAnswer {
    const { shownMm, contact } = this.#read();
    if (shownMm === null || contact === 'off the work') {
      return {
        ok: false,
        fault: {
          code: 'demo-stylus-off',
          what: 'The simulated stylus touches nothing, so there is nothing to zero on.',
          got: `stylus at ${this.#length(this.#xMm())}`,
          remedy: `Bring it onto the bar, from 0 to ${this.#length(BAR_LENGTH_MM)}.`,
        },
      };
    }
    this.#gauge = zeroed(this.#gauge, shownMm);
    return this.#done('The indicator was zeroed where it stands.');
  }

  #newVise(): ActAnswer {
    this.#dice = new Dice(this.#dice.seed());
    // Only the first vise is out of true by what was asked for; the next are drawn.
    this.#build = buildBench({ ...this.#options, outOfTrueMm: null, seed: this.#dice.seed() });
    this.#vise = this.#build.startsAt;
    this.#gauge = { zeroMm: 0, heldMm: null };
    this.#table = tableAtRest(0);
    this.#saddleMm = this.#presetMm();
    return this.#done('Another vise, nipped and out of true; the stylus stands at the left end.');
  }
}
