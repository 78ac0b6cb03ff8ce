import { ReadlineParser } from '@serialport/parser-readline';
import type { RecordEntry } from '@taptrue/protocol';
import { type Row, ratio, tell, whole } from '../row.ts';
import { type SweptBytes, sweptBytes } from '../swept-bytes.ts';
import { WholeWay } from '../whole-way.ts';

const AIM_PER_SECOND = 50_000;
const LINES = 1_000_000;
const DECADES = [1_000, 10_000, 100_000, LINES];
const ROUNDS = 3;
/** Compiling is done with by then: the first readings of a fresh process say nothing of the thousandth of a day. */
const WARM_UP_LINES = 200_000;
/** As fast a device pair as the line shapes are meant for, to say what share of a core it takes. */
const USUAL_PER_SECOND = 1_000;

interface Timed {
  perSecond: number;
  /** Microseconds per reading in each decade of the sweep. */
  byDecadeUs: number[];
  way: WholeWay;
}

function pushAll({ gulps }: SweptBytes, record?: (entry: RecordEntry) => void): Timed {
  const way = new WholeWay(record);
  const byDecadeUs: number[] = [];
  let decade = 0;
  let readings = 0;
  const startedAtMs = performance.now();
  let sinceMs = startedAtMs;
  for (const gulp of gulps) {
    way.push(gulp);
    while (decade < DECADES.length && way.readings >= DECADES[decade]!) {
      const nowMs = performance.now();
      byDecadeUs.push(((nowMs - sinceMs) * 1000) / (way.readings - readings));
      readings = way.readings;
      sinceMs = nowMs;
      decade += 1;
    }
  }
  const perSecond = way.readings / ((performance.now() - startedAtMs) / 1000);
  way.close();
  if (way.sweep?.state !== 'being taken' || way.sweep.result === null) {
    throw new Error('the sweep did not stay being taken, so the figures would mean nothing');
  }
  return { perSecond, byDecadeUs, way };
}

/** The same bytes through the line parser alone, and the text of an object with one line in it. */
function barePerSecond({ gulps, lines }: SweptBytes): number {
  const parser = new ReadlineParser({ delimiter: '\n', encoding: 'latin1' });
  let characters = 0;
  let got = 0;
  parser.on('data', (line: string) => {
    got += 1;
    characters += JSON.stringify({ line }).length;
  });
  const startedAtMs = performance.now();
  // The stream hands lines on within the write while somebody listens and nothing is held back.
  for (const { bytes } of gulps) parser.write(bytes);
  const tookMs = performance.now() - startedAtMs;
  if (got < lines * 0.999 || characters === 0) throw new Error(`the bare pipe gave ${got} lines`);
  return got / (tookMs / 1000);
}

function median(values: number[]): number {
  return values.sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

const bytes = sweptBytes(LINES, AIM_PER_SECOND, 2);
pushAll(sweptBytes(WARM_UP_LINES, AIM_PER_SECOND, 2));
const timed: Timed[] = [];
const bare: number[] = [];
for (let round = 0; round < ROUNDS; round += 1) {
  bare.push(barePerSecond(bytes));
  timed.push(pushAll(bytes));
}
const perSecond = median(timed.map((one) => one.perSecond));
const barely = median(bare);
const byDecadeUs = DECADES.map((_, decade) => median(timed.map((one) => one.byDecadeUs[decade]!)));
const { way } = timed.at(-1)!;

const slow = sweptBytes(60 * USUAL_PER_SECOND, USUAL_PER_SECOND, 10);
const usual = pushAll(slow);
let recordCharacters = 0;
const withRecord = pushAll(bytes, (entry) => {
  recordCharacters += JSON.stringify(entry).length;
});

const rows: Row[] = [
  {
    what: 'readings/s, bytes to message',
    value: whole(perSecond),
    beside: `aim ${whole(AIM_PER_SECOND)} or more: ${perSecond >= AIM_PER_SECOND ? 'kept' : 'missed'}`,
  },
  {
    what: "the same with the text of the record's lines made as well",
    value: whole(withRecord.perSecond),
    beside: `${whole(recordCharacters / withRecord.way.recorded)} characters a reading`,
  },
  {
    what: 'bare pipe: line parser and JSON of a line, lines/s',
    value: whole(barely),
    beside: `${ratio(barely, perSecond)} the whole way`,
  },
  ...DECADES.map((until, decade) => ({
    what: `us per reading, up to the ${whole(until)}th`,
    value: byDecadeUs[decade]!.toFixed(2),
    beside: decade === 0 ? '' : `${ratio(byDecadeUs[decade]!, byDecadeUs[0]!)} the first thousand`,
  })),
  {
    what: `share of a core at ${whole(USUAL_PER_SECOND)} readings/s`,
    value: `${((100 * USUAL_PER_SECOND) / usual.perSecond).toFixed(1)} %`,
    beside: '60 messages and 10 fits a second',
  },
  {
    what: 'characters of a message, mean',
    value: whole(way.messageCharacters / way.messages),
    beside: `largest ${whole(way.largestMessage)}`,
  },
];
tell({
  title: 'Readings per second, one core, no browser (median of 3 sweeps of 1,000,000)',
  rows,
  notes: [
    `${whole(way.recorded)} entries for the record counted, ${whole(way.messages)} messages made, ${way.sweep?.points.length} bins judged every 100 ms of simulated time.`,
  ],
});
