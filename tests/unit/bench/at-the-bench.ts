import {
  type Answer,
  type Command,
  checkerOf,
  type LinkName,
  type LinkReport,
  PROTOCOL_VERSION,
  type Reading,
  RecordEntry,
  type SetupChange,
  type SweepResult,
  zeroCounters,
} from '@taptrue/protocol';
import { Bench } from '@taptrue/server/bench/bench.ts';
import type { BenchOptions } from '@taptrue/server/bench/bench-options.ts';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { recompute } from '@taptrue/server/records/journal/recompute.ts';
import { shippedSetUps } from '@taptrue/server/records/set-ups/shipped-set-ups.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { expect, onTestFinished } from 'vitest';

const entries = checkerOf(RecordEntry);

/** Five stations over a bar of 127 mm (5 in). */
export const STATIONS_MM = [0, 31.75, 63.5, 95.25, 127] as const;

/** Every job of this record, replayed, says the same stations, steps and results to the last digit. */
function expectTheSameAgain(recorded: readonly RecordEntry[]): void {
  for (const [at, opened] of recorded.entries()) {
    if (opened.entry !== 'opened') continue;
    const rest = recorded.slice(at + 1);
    const end = rest.findIndex((entry) => entry.entry === 'opened');
    const job = end === -1 ? rest : rest.slice(0, end);
    expect(recompute(opened, job).differences).toEqual([]);
  }
}

/** One hand at one bench: it commands, types and works devices, on a clock of its own. */
export class AtTheBench {
  readonly store = new SectionStore(firstState('mill', PROTOCOL_VERSION));
  readonly recorded: RecordEntry[] = [];
  readonly bench: Bench;
  nowMs = 1000;
  #sequence = 0;

  constructor(setup: SetupChange = {}, remembered: BenchOptions['remembered'] = null) {
    this.bench = new Bench(this.store, {
      name: 'mill',
      serviceVersion: PROTOCOL_VERSION,
      remembered,
      setUps: shippedSetUps,
      record: (entry) => {
        const checked = entries.parse(JSON.stringify(entry));
        if (!checked.ok) throw new Error(`${checked.why} in ${JSON.stringify(entry)}`);
        this.recorded.push(checked.value);
      },
    });
    // Whatever a test did at the bench: told again, it must come out the same.
    onTestFinished(() => expectTheSameAgain(this.recorded));
    if (Object.keys(setup).length > 0) this.must({ kind: 'change setup', change: setup });
  }

  get state() {
    return this.store.state;
  }

  get job() {
    return this.state.bench.job;
  }

  /** The last result on the screen. */
  get result(): SweepResult {
    const result = this.state.sweep?.result;
    if (!result) throw new Error(`no result: ${this.state.sweep?.noResultYet}`);
    return result;
  }

  say(command: Command): Answer {
    this.nowMs += 10;
    return this.bench.command(command, this.nowMs);
  }

  must(command: Command): string {
    const answer = this.say(command);
    if (!answer.ok) throw new Error(`${answer.fault.code}: ${answer.fault.got}`);
    return answer.note;
  }

  /** The code of the refusal; null: it was done. */
  refused(command: Command): string | null {
    const answer = this.say(command);
    return answer.ok ? null : answer.fault.code;
  }

  keyStation(typed: string): void {
    this.must({ kind: 'take station', keyed: typed });
  }

  sweepKeyed(typed: readonly string[]): void {
    this.must({ kind: 'begin sweep' });
    for (const one of typed) this.keyStation(one);
  }

  connect(link: LinkName, changes: Partial<LinkReport> = {}): void {
    this.report(link, {
      state: 'live',
      config: {
        source: { kind: 'tcp', host: 'device', port: 4000 },
        shape: 'signed-decimal',
        unit: 'mm',
        channel: null,
      },
      simulated: false,
      trigger: 'streams',
      readingsPerSecond: 50,
      lastText: '',
      counters: zeroCounters(),
      fault: null,
      ...changes,
    });
  }

  report(link: LinkName, changes: Partial<LinkReport>): void {
    const report = { ...this.state.links[link], ...changes };
    this.bench.linkReport(link, report, this.nowMs);
  }

  reads(link: LinkName, valueMm: number, changes: Partial<Reading> = {}): void {
    this.#sequence += 1;
    this.bench.reading(link, {
      sequence: this.#sequence,
      atMs: this.nowMs,
      text: String(valueMm),
      channel: null,
      value: valueMm,
      unit: 'mm',
      valueMm,
      decimals: 3,
      status: 'ok',
      ...changes,
    });
  }

  /** The device streams the same for a while, fifty a second. */
  rests(link: LinkName, valueMm: number, forMs = 400): void {
    for (let ms = 0; ms < forMs; ms += 20) {
      this.nowMs += 20;
      this.reads(link, valueMm);
      if (ms % 100 === 0) this.bench.tick(this.nowMs);
    }
  }

  stations(): { xMm: number; readingMm: number }[] {
    return this.recorded.flatMap((entry) =>
      entry.entry === 'station' ? [{ xMm: entry.xMm, readingMm: entry.readingMm }] : [],
    );
  }
}
