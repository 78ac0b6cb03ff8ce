import type { RecordDisk } from '@taptrue/server/store/record-file.ts';

export type DiskAct = 'opening' | 'writing' | 'half a write' | 'syncing';

/** A disk in memory whose nth opening, write or sync can fail; a half write leaves half of it behind. */
export class FakeDisk implements RecordDisk {
  text = '';
  /** What was on the disk at the last sync that worked. */
  synced = '';
  isClosed = false;
  writes = 0;
  readonly opened: string[] = [];
  readonly #counts = new Map<DiskAct, number>();
  #failing: { act: DiskAct; code: string; at: (count: number) => boolean } | null = null;

  fail(act: DiskAct, code: string, at: (count: number) => boolean): void {
    this.#failing = { act, code, at };
  }

  tried(act: DiskAct): number {
    return this.#counts.get(act) ?? 0;
  }

  lines(): string[] {
    return this.text.split('\n').slice(0, -1);
  }

  async open(path: string) {
    this.#do('opening');
    this.opened.push(path);
    return {
      writeAt: async (bytes: Uint8Array, position: number) => {
        this.writes += 1;
        // The bytes reach the disk a moment later than they are handed over, as on any system.
        await Promise.resolve();
        this.#do('writing');
        this.#do('half a write', () => this.#lay(bytes.subarray(0, bytes.length / 2), position));
        this.#lay(bytes, position);
      },
      datasync: async () => {
        this.#do('syncing');
        this.synced = this.text;
      },
      close: async () => {
        this.isClosed = true;
      },
    };
  }

  #lay(bytes: Uint8Array, position: number): void {
    const before = Buffer.from(this.text);
    const whole = Buffer.alloc(Math.max(before.length, position + bytes.length));
    before.copy(whole);
    whole.set(bytes, position);
    this.text = whole.toString();
  }

  #do(act: DiskAct, instead: () => void = () => undefined): void {
    const count = this.tried(act) + 1;
    this.#counts.set(act, count);
    if (this.#failing?.act !== act || !this.#failing.at(count)) return;
    instead();
    throw Object.assign(new Error(this.#failing.code), { code: this.#failing.code });
  }
}
