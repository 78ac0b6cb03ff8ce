import type { PassName } from '@taptrue/protocol';
import type { TakenPass, Taker } from './sample-sources.ts';

interface Station {
  xMm: number;
  pass: PassName;
}

/** Stations the user stands at, in the order they are taken; with a back pass, the same ones in reverse. */
export class StationTaker implements Taker {
  readonly pointsAre = 'single readings';
  readonly pairsRefused = 0;
  readonly #stations: readonly Station[];
  readonly #readingsMm: number[] = [];

  constructor(stationsMm: readonly number[], backPass: boolean) {
    const out = stationsMm.map((xMm): Station => ({ xMm, pass: 'out' }));
    const back = stationsMm.map((xMm): Station => ({ xMm, pass: 'back' })).reverse();
    this.#stations = backPass ? [...out, ...back] : out;
  }

  get pass(): PassName {
    return this.next?.pass ?? this.#stations.at(-1)!.pass;
  }

  get samples(): number {
    return this.#readingsMm.length;
  }

  get isComplete(): boolean {
    return this.#readingsMm.length >= this.#stations.length;
  }

  /** The station to stand at now; null when all are taken. */
  get next(): { index: number; xMm: number; pass: PassName } | null {
    const index = this.#readingsMm.length;
    const station = this.#stations[index];
    return station ? { index, ...station } : null;
  }

  /** Takes the reading at the next station; null when all are taken. */
  take(readingMm: number): Station | null {
    const station = this.#stations[this.#readingsMm.length];
    if (!station) return null;
    this.#readingsMm.push(readingMm);
    return station;
  }

  /** Strikes out the last one; false where nothing was taken. */
  takeBack(): boolean {
    return this.#readingsMm.pop() !== undefined;
  }

  /** A stream is not listened to between stations. */
  indicator(): void {}
  readout(): void {}
  tick(): void {}

  passes(): TakenPass[] {
    const named = (pass: PassName): TakenPass => ({
      pass,
      points: this.#readingsMm.flatMap((readingMm, index) => {
        const station = this.#stations[index]!;
        return station.pass === pass ? [{ xMm: station.xMm, readingMm, samples: 1 }] : [];
      }),
    });
    return [named('out'), named('back')].filter((pass) => pass.points.length > 0);
  }
}
