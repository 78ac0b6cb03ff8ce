import {
  firstSetup,
  type LinkConfig,
  type LinkName,
  type LinkReport,
  type Painted,
  type RecordEntry,
  zeroCounters,
} from '@taptrue/protocol';
import { Bench } from '@taptrue/server/bench/bench.ts';
import { firstState } from '@taptrue/server/bench/first-state.ts';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { LineReader } from '@taptrue/server/devices/transport/read-line.ts';
import { ReadingIntake } from '@taptrue/server/devices/transport/take-readings.ts';
import { SectionStore } from '@taptrue/server/state/section-store.ts';
import { Hub } from '@taptrue/server/stream/hub.ts';
import { SimulatedTimers } from './simulated-timers.ts';
import { BAR_MM, type Gulp } from './swept-bytes.ts';

const TICK_EVERY_MS = 100;
/** A page acknowledges what it painted ten times a second. */
const PAINTED_EVERY_MS = 100;

const SHAPES: Readonly<Record<LinkName, string>> = {
  indicator: 'signed-decimal',
  readout: 'axis-readout',
};

/**
 * The way of a reading without ports and browser: bytes cut, decoded and sifted as a link does it, a real bench
 * sweeping by readout, a real hub that makes the text of every message for one screen. Entries for the record are
 * counted and handed to `record`; no disk is written to.
 */
export class WholeWay {
  readonly timers = new SimulatedTimers();
  readonly #store = new SectionStore(firstState('bench', '0'));
  readonly #bench: Bench;
  readonly #hub: Hub;
  readonly #intakes: Record<LinkName, ReadingIntake>;
  readonly #readers: Record<LinkName, LineReader>;
  readonly #painted: (sequence: number, visible: Painted['visible']) => void;
  #nextTickMs = TICK_EVERY_MS;
  #nextPaintedMs = PAINTED_EVERY_MS;
  recorded = 0;
  messages = 0;
  messageCharacters = 0;
  largestMessage = 0;

  constructor(record: (entry: RecordEntry) => void = () => undefined) {
    this.timers.install();
    const now = () => this.timers.nowMs;
    this.#bench = new Bench(this.#store, {
      name: 'bench',
      serviceVersion: '0',
      remembered: {
        setup: {
          ...firstSetup(),
          way: 'readout',
          entry: 'device',
          rises: 'toward',
          counts: 1,
          sweptLengthMm: BAR_MM,
        },
        nudges: this.#store.get('nudges'),
      },
      record: (entry) => {
        this.recorded += 1;
        record(entry);
      },
    });
    this.#hub = new Hub(
      this.#store,
      { pairingCode: null, addresses: [], tablets: [], triesLeft: 0 },
      now,
    );
    const screen = this.#hub.join({
      role: 'bench screen',
      bufferedBytes: () => 0,
      send: (text) => this.#sent(text),
      cut: () => undefined,
    });
    this.#painted = screen.painted;
    this.#intakes = { indicator: this.#intake('indicator'), readout: this.#intake('readout') };
    this.#readers = { indicator: this.#reader('indicator'), readout: this.#reader('readout') };
    this.#begin();
  }

  /** Readings of both devices that came through whole. */
  get readings(): number {
    return this.#intakes.indicator.readings + this.#intakes.readout.readings;
  }

  get sweep() {
    return this.#store.get('sweep');
  }

  push(gulp: Gulp): void {
    this.timers.advanceTo(gulp.atMs);
    this.#readers[gulp.link].bytes(gulp.bytes, gulp.atMs);
    if (gulp.atMs >= this.#nextTickMs) {
      this.#nextTickMs += TICK_EVERY_MS;
      this.#bench.tick(gulp.atMs);
    }
    if (gulp.atMs >= this.#nextPaintedMs) {
      this.#nextPaintedMs += PAINTED_EVERY_MS;
      this.#painted(this.#store.sequence, true);
    }
  }

  close(): void {
    this.#hub.close();
  }

  #begin(): void {
    for (const link of ['indicator', 'readout'] as const) {
      this.#bench.linkReport(link, this.#report(link), 0);
    }
    const answer = this.#bench.command({ kind: 'begin sweep' }, 0);
    if (!answer.ok) throw new Error(answer.fault.what);
  }

  #intake(link: LinkName): ReadingIntake {
    const refused = (what: string) => {
      throw new Error(what);
    };
    return new ReadingIntake({
      config: this.#config(link),
      events: () => ({
        opened: () => undefined,
        heard: () => undefined,
        reading: (reading) => this.#bench.reading(link, reading),
        second: () => undefined,
        unread: () => undefined,
        refused: (fault) => refused(fault.what),
        closed: () => undefined,
      }),
      siftedFault: ({ kind }) => refused(kind),
    });
  }

  #reader(link: LinkName): LineReader {
    const fault = (got: string) => ({ code: 'not-understood' as const, what: '', got, remedy: '' });
    const reader = new LineReader({
      shape: shapeNamed(SHAPES[link])!,
      intake: this.#intakes[link],
      onFrame: () => undefined,
      notUnderstood: fault,
      tooLong: (_longestBytes, text) => fault(text),
    });
    reader.begin();
    reader.lineWasIdle();
    return reader;
  }

  #config(link: LinkName): LinkConfig {
    const source = { kind: 'serial', path: link, settings: null } as const;
    return { source, shape: SHAPES[link], unit: 'as sent', channel: null };
  }

  #report(link: LinkName): LinkReport {
    return {
      state: 'live',
      config: this.#config(link),
      simulated: false,
      trigger: 'streams',
      readingsPerSecond: 1000,
      lastText: '',
      counters: zeroCounters(),
      fault: null,
    };
  }

  #sent(text: string): void {
    this.messages += 1;
    this.messageCharacters += text.length;
    this.largestMessage = Math.max(this.largestMessage, text.length);
  }
}
