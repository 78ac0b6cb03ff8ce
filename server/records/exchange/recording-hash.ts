import { createHash } from 'node:crypto';
import { RECORDING_FORMAT, type RecordingEnd } from '@taptrue/protocol';

/** Lines of a recording so far: how many, and the SHA-256 over them with their line ends. */
export interface Fingerprint {
  lines: number;
  sha256: string;
}

/** The running fingerprint of a recording. */
export class RecordingHash {
  readonly #hash = createHash('sha256');
  lines = 0;

  /** One line without its line end. */
  line(line: string | Uint8Array): void {
    this.#hash.update(line);
    this.#hash.update('\n');
    this.lines += 1;
  }

  /** Whole lines at once, the last with its line end. */
  text(text: string, lines: number): void {
    this.#hash.update(text);
    this.lines += lines;
  }

  /** As it stands; more may follow. */
  get fingerprint(): Fingerprint {
    return { lines: this.lines, sha256: this.#hash.copy().digest('hex') };
  }
}

/** The end line of a recording, without its line end. */
export function endLine({ lines, sha256 }: Fingerprint): string {
  return JSON.stringify({ end: RECORDING_FORMAT, lines, sha256 } satisfies RecordingEnd);
}
