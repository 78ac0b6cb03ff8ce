import { makeShapeCutter } from '../formats/cut-frames.ts';
import { decodeAxes } from '../formats/decode-frame.ts';
import { escapeControls } from '../formats/escape-controls.ts';
import type { Candidate } from './candidates.ts';
import type { HeardReading } from './shape-hearing.ts';

/** The readings of one candidate while its question stands, for as long as that may be. */
export class LiveSample {
  readonly #candidate: Candidate;
  readonly #cutter;

  constructor(candidate: Candidate) {
    this.#candidate = candidate;
    this.#cutter = makeShapeCutter(candidate.shape);
  }

  lineWasIdle(): void {
    this.#cutter.lineWasIdle();
  }

  /** The last whole reading of the candidate's channel in this chunk; null: none. */
  hear(chunk: Uint8Array): HeardReading | null {
    const { shape, channel } = this.#candidate;
    let last: HeardReading | null = null;
    for (const cut of this.#cutter.feed(chunk)) {
      if (cut.kind !== 'frame') continue;
      const decoded = decodeAxes(cut.body, shape);
      if (decoded.kind === 'invalid') continue;
      const ours = decoded.readings.find((reading) => reading.channel === channel);
      if (ours === undefined) continue;
      const { value, decimals, unit, status } = ours;
      last = { text: escapeControls(cut.text), value, decimals, unit, channel, status };
    }
    return last;
  }
}
