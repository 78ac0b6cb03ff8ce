/** Bins kept at most: more than the pixels between two marks of any drawing, few enough to fit ten times a second. */
export const MOST_BINS = 128;

/** Step to begin with, mm: about the width of the place a small stylus ball touches. */
export const FIRST_STEP_MM = 0.25;

/**
 * A sample farther than this from the first one is refused and counted: no bar is 10 m long, and one wild
 * position would otherwise widen the bins until the whole sweep fell into two of them.
 */
export const LONGEST_SPAN_MM = 10_000;

export interface BinnedPoint {
  /** Mean position of the samples in the bin, mm. */
  xMm: number;
  /** Mean reading of the samples in the bin, mm. */
  readingMm: number;
  samples: number;
}

export interface BinOptions {
  firstStepMm?: number;
  mostBins?: number;
  /** Where a bin border lies, mm. */
  originMm?: number;
}

/**
 * Samples gathered into equal steps of position, so that a stylus parked for a minute weighs no more than
 * one that passes. When the span outgrows the bins, the step doubles and neighbours merge: cost per sample
 * does not grow with the length of the sweep. Borders lie on a fixed grid, so which samples share a bin
 * does not depend on the order they came in.
 */
export class PositionBins {
  readonly #mostBins: number;
  readonly #originMm: number;
  #stepMm: number;
  /** Grid number of slot 0. */
  #lowest = 0;
  #used = 0;
  #firstMm = Number.NaN;
  #xMm: Float64Array;
  #readingMm: Float64Array;
  #samples: Float64Array;
  #total = 0;
  #refused = 0;

  constructor(options: BinOptions = {}) {
    this.#mostBins = options.mostBins ?? MOST_BINS;
    this.#stepMm = options.firstStepMm ?? FIRST_STEP_MM;
    this.#originMm = options.originMm ?? 0;
    this.#xMm = new Float64Array(this.#mostBins);
    this.#readingMm = new Float64Array(this.#mostBins);
    this.#samples = new Float64Array(this.#mostBins);
  }

  get stepMm(): number {
    return this.#stepMm;
  }

  /** Samples taken in. */
  get samples(): number {
    return this.#total;
  }

  /** Samples refused: not a number, or farther away than any bar is long. */
  get refused(): number {
    return this.#refused;
  }

  /** Takes one sample in; false: refused and counted. */
  add(xMm: number, readingMm: number): boolean {
    return this.#addMean(xMm, readingMm, 1);
  }

  /** Takes in what other bins hold, each of them as the samples it stands for. */
  merge(others: readonly BinnedPoint[]): void {
    for (const { xMm, readingMm, samples } of others) this.#addMean(xMm, readingMm, samples);
  }

  /** The bins that hold anything, in order of position. */
  points(): BinnedPoint[] {
    const points: BinnedPoint[] = [];
    for (let slot = 0; slot < this.#used; slot += 1) {
      const samples = this.#samples[slot]!;
      if (samples === 0) continue;
      points.push({ xMm: this.#xMm[slot]!, readingMm: this.#readingMm[slot]!, samples });
    }
    return points;
  }

  #addMean(xMm: number, readingMm: number, weight: number): boolean {
    if (this.#total === 0) this.#firstMm = xMm;
    if (
      !Number.isFinite(readingMm) ||
      !Number.isFinite(xMm) ||
      Math.abs(xMm - this.#firstMm) > LONGEST_SPAN_MM
    ) {
      this.#refused += 1;
      return false;
    }
    const slot = this.#slotFor(xMm);
    const samples = this.#samples[slot]! + weight;
    this.#samples[slot] = samples;
    this.#xMm[slot]! += ((xMm - this.#xMm[slot]!) * weight) / samples;
    this.#readingMm[slot]! += ((readingMm - this.#readingMm[slot]!) * weight) / samples;
    this.#total += weight;
    return true;
  }

  #slotFor(xMm: number): number {
    let grid = Math.floor((xMm - this.#originMm) / this.#stepMm);
    if (this.#used === 0) {
      this.#lowest = grid;
      this.#used = 1;
      return 0;
    }
    while (this.#spanWith(grid) > this.#mostBins) {
      this.#doubleStep();
      grid = Math.floor(grid / 2);
    }
    if (grid < this.#lowest) this.#shiftUp(this.#lowest - grid);
    this.#used = Math.max(this.#used, grid - this.#lowest + 1);
    return grid - this.#lowest;
  }

  #spanWith(grid: number): number {
    const highest = Math.max(grid, this.#lowest + this.#used - 1);
    return highest - Math.min(grid, this.#lowest) + 1;
  }

  #shiftUp(slots: number): void {
    for (const column of [this.#xMm, this.#readingMm, this.#samples]) {
      column.copyWithin(slots, 0, this.#used);
      column.fill(0, 0, Math.min(slots, this.#mostBins));
    }
    this.#lowest -= slots;
    this.#used += slots;
  }

  #doubleStep(): void {
    const before = this.points();
    const lowest = Math.floor(this.#lowest / 2);
    const used = Math.floor((this.#lowest + this.#used - 1) / 2) - lowest + 1;
    const gridOf: number[] = [];
    for (let slot = 0; slot < this.#used; slot += 1) {
      if (this.#samples[slot]! > 0) gridOf.push(Math.floor((this.#lowest + slot) / 2) - lowest);
    }
    for (const column of [this.#xMm, this.#readingMm, this.#samples]) column.fill(0);
    before.forEach((bin, index) => {
      const slot = gridOf[index]!;
      const samples = this.#samples[slot]! + bin.samples;
      this.#samples[slot] = samples;
      this.#xMm[slot]! += ((bin.xMm - this.#xMm[slot]!) * bin.samples) / samples;
      this.#readingMm[slot]! += ((bin.readingMm - this.#readingMm[slot]!) * bin.samples) / samples;
    });
    this.#stepMm *= 2;
    this.#lowest = lowest;
    this.#used = used;
  }
}
