import { type RecordEntry, recordingHeader } from '@taptrue/protocol';
import { endLine, type Fingerprint, RecordingHash } from './recording-hash.ts';

const SWEEP_ENDED = '{"entry":"sweep ended"';

/**
 * A job's entries, piece by piece, as a recording: header before, end line behind. `throughSweep` stops behind
 * that sweep; what led to it stays, because its result comes out of that.
 */
export class RecordingWriter {
  readonly #hash = new RecordingHash();
  readonly #throughSweep: number | null;
  #begun = false;
  #endedAtMs: number | null = null;
  #isOver = false;

  constructor(throughSweep: number | null = null) {
    this.#throughSweep = throughSweep;
  }

  /** Nothing of what follows belongs to it. */
  get isOver(): boolean {
    return this.#isOver;
  }

  /** The sweep that was asked for is in it; true where none was. */
  get hasSweep(): boolean {
    return this.#throughSweep === null || this.#endedAtMs !== null;
  }

  get fingerprint(): Fingerprint {
    return this.#hash.fingerprint;
  }

  /** Whole lines of the record, as kept; gives what is to be written. */
  push(text: string): string {
    if (this.#isOver || text === '') return '';
    const header = this.#begun ? '' : this.#header(text);
    const wanted = this.#throughSweep === null ? text : this.#upToSweep(text);
    this.#hash.text(wanted, linesIn(wanted));
    return header + wanted;
  }

  /** The end line, with its line end; '' where nothing was pushed. */
  end(): string {
    return this.#begun ? `${endLine(this.#hash.fingerprint)}\n` : '';
  }

  #header(text: string): string {
    this.#begun = true;
    const first = JSON.parse(text.slice(0, text.indexOf('\n'))) as RecordEntry;
    if (first.entry !== 'opened') throw new Error(`a record begins with ${first.entry}`);
    const header = `${JSON.stringify(recordingHeader(first))}\n`;
    this.#hash.text(header, 1);
    return header;
  }

  /** A command stands behind what followed from it, at the same moment: it belongs to the sweep. */
  #upToSweep(text: string): string {
    const kept: string[] = [];
    for (const line of text.split('\n')) {
      if (line === '') continue;
      if (this.#endedAtMs !== null) {
        const { atMs } = JSON.parse(line) as RecordEntry;
        if (atMs > this.#endedAtMs) {
          this.#isOver = true;
          break;
        }
      } else if (line.startsWith(SWEEP_ENDED)) {
        const ended = JSON.parse(line) as RecordEntry;
        if (ended.entry === 'sweep ended' && ended.sweep === this.#throughSweep)
          this.#endedAtMs = ended.atMs;
      }
      kept.push(`${line}\n`);
    }
    return kept.join('');
  }
}

function linesIn(text: string): number {
  let lines = 0;
  for (let at = text.indexOf('\n'); at !== -1; at = text.indexOf('\n', at + 1)) lines += 1;
  return lines;
}
