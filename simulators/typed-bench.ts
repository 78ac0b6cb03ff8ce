import { faultLine, formatLength, type LengthUnit } from '@taptrue/protocol';
import { BENCH_LINES_HELP, type BenchLine, readBenchLine } from './bench-line.ts';
import type { SimulatorClock } from './clock.ts';
import type { DemoBench } from './demo-bench.ts';
import { playBackAndForth } from './play-table.ts';

export interface TypedBenchOptions {
  bench: DemoBench;
  clock: SimulatorClock;
  unit: LengthUnit;
  traverseMmPerSecond: number;
  /** Takes the ports away, makes them again; both say what a person should know. */
  unplug(): Promise<string>;
  replug(): Promise<string>;
}

/** A simulated bench worked by typed lines: each is answered by one sentence, null ends it. */
export class TypedBench {
  readonly #options: TypedBenchOptions;
  #stopPlaying: (() => void) | null = null;

  constructor(options: TypedBenchOptions) {
    this.#options = options;
  }

  play(): string {
    const { bench, clock, traverseMmPerSecond } = this.#options;
    this.#stopPlaying ??= playBackAndForth(bench, clock, traverseMmPerSecond);
    return 'The table traverses back and forth.';
  }

  async type(text: string): Promise<string | null> {
    const read = readBenchLine(text);
    return read.ok ? this.#do(read.line) : read.why;
  }

  close(): void {
    this.#stopPlaying?.();
    this.#stopPlaying = null;
  }

  async #do(line: BenchLine): Promise<string | null> {
    const { bench, traverseMmPerSecond: mmPerSecond } = this.#options;
    switch (line.kind) {
      case 'act':
        // Whoever takes the table in hand wants it to stay.
        if (line.act.act === 'stop table' || line.act.act === 'new vise') this.close();
        return this.#answer(bench.act(line.act));
      case 'traverse': {
        this.close();
        const { leftMm, rightMm } = bench.section();
        const toMm = line.to === 'left' ? leftMm : rightMm;
        return this.#answer(bench.act({ act: 'traverse', toMm, mmPerSecond }));
      }
      case 'park':
        this.close();
        return this.#answer(bench.act({ act: 'traverse', toMm: line.xMm, mmPerSecond }));
      case 'stage':
        bench.clamp(line.stage);
        return `The clamps are ${line.stage}.`;
      case 'play':
        return this.play();
      case 'where':
        return this.#where();
      case 'unplug':
        return this.#options.unplug();
      case 'replug':
        return this.#options.replug();
      case 'help':
        return `Lines that work the bench:\n${BENCH_LINES_HELP}`;
      case 'quit':
        return null;
    }
  }

  #answer(answer: ReturnType<DemoBench['act']>): string {
    return answer.ok ? answer.note : faultLine(answer.fault);
  }

  #where(): string {
    const { tableMm, traversing, stylusTouches, clamped } = this.#options.bench.section();
    const place = formatLength(tableMm, this.#options.unit);
    return `The stylus is at ${place}${traversing ? ', moving' : ''}${stylusTouches ? '' : ', off the bar'}; the clamps are ${clamped}.`;
  }
}
