import type { BenchState, RecordEntry } from '@taptrue/protocol';
import { markOf } from '@taptrue/server/records/journal/mark-of.ts';
import { ReplayEngine } from '@taptrue/server/records/replay/replay-engine.ts';
import { AtTheBench, STATIONS_MM } from '../../bench/at-the-bench.ts';

/** Swept, tapped, swept again: the job most tests replay. Times of its entries are 10 ms apart and more. */
export function recordedJob(): AtTheBench {
  const hand = new AtTheBench({
    displayUnit: 'mm',
    keyedAs: { kind: 'length', unit: 'mm' },
    rises: 'toward',
    stationsMm: [...STATIONS_MM],
    limit: { kind: 'end to end', mm: 0.02, overMm: null },
  });
  hand.sweepKeyed(['0.000', '-0.021', '-0.041', '-0.062', '-0.081']);
  hand.nowMs += 2000;
  hand.must({ kind: 'park', xMm: 127, keyed: '-0.081' });
  hand.must({ kind: 'tap reading', keyed: '-0.050' });
  hand.must({ kind: 'tap reading', keyed: '-0.011' });
  hand.nowMs += 1000;
  hand.must({ kind: 'set stage', stage: 'snug' });
  hand.must({ kind: 'change setup', change: { decisionRule: 'plain' } });
  hand.sweepKeyed(['0.000', '-0.002', '-0.004', '-0.006', '-0.009']);
  return hand;
}

/** A replay by hand: time passes when told to, and the screen has what it was told. */
export class Watched {
  readonly engine: ReplayEngine;
  readonly lines: string[];
  screen: Partial<BenchState> = {};
  nowMs = 0;

  /** `pieces` entries in a piece each; those of `damaged` numbers cannot be read. */
  constructor(
    record: readonly RecordEntry[],
    options: { span?: [number, number]; damaged?: number[]; inPiece?: number } = {},
  ) {
    const { damaged = [], inPiece = 4 } = options;
    this.lines = record.map((entry) => JSON.stringify(entry));
    const heads = [];
    for (let from = 0; from < record.length; from += inPiece) {
      const part = record.slice(from, from + inPiece);
      heads.push({
        seq: from / inPiece + 1,
        firstAtMs: part[0]!.atMs,
        lastAtMs: part.at(-1)!.atMs,
      });
    }
    const [beginsMs, endsMs] = options.span ?? [record[0]!.atMs, record.at(-1)!.atMs];
    const opened = ReplayEngine.open({
      id: 'r',
      job: 'job-1',
      sweep: null,
      beginsMs,
      endsMs,
      wallClock: '',
      marks: record.flatMap((entry) => markOf(entry) ?? []),
      pieces: {
        heads,
        lines: (seq) => {
          if (damaged.includes(seq)) throw new Error('incorrect header check');
          return this.lines.slice((seq - 1) * inPiece, seq * inPiece).join('\n');
        },
      },
    });
    if (!opened.ok) throw new Error(opened.fault.code);
    this.engine = opened.engine;
    this.settle();
  }

  get replay() {
    return this.screen.replay!;
  }

  /** Time passes in frames of a screen. */
  pass(ms: number): void {
    for (const until = this.nowMs + ms; this.nowMs < until; ) {
      this.nowMs = Math.min(until, this.nowMs + 16);
      this.engine.advance(this.nowMs, () => true);
      Object.assign(this.screen, this.engine.take(this.nowMs));
    }
  }

  /** Until all that it was asked is done and shown. */
  settle(): void {
    while (this.engine.advance(this.nowMs, () => true));
    this.nowMs += 200;
    Object.assign(this.screen, this.engine.take(this.nowMs));
  }
}
