import type { BlockSet, GaugeBlock } from '@taptrue/protocol';
import { series, singles } from './series.ts';

const thousandths = series(10_010, 10_090, 10, 3);
const hundredths = series(10_100, 14_900, 100, 2);
const fewHundredths = series(10_100, 10_900, 100, 2);
const tenths = series(11_000, 19_000, 1000, 1);
const wholes = (from: number, to: number, step = 1): GaugeBlock[] =>
  series(from * 10_000, to * 10_000, step * 10_000, 0);
const halves = (to: number): GaugeBlock[] => series(5000, to * 10_000, 5000, 1);

function set(
  name: string,
  pieces: number,
  fromMemory: boolean,
  source: string,
  blocks: GaugeBlock[],
): BlockSet {
  return {
    id: `metric-${name}`,
    title: `${pieces} pieces, metric${name === String(pieces) ? '' : ` (${name.slice(-1)})`}`,
    unit: 'mm',
    source,
    fromMemory,
    blocks,
  };
}

const COMPARE = 'Common composition; compare it with the case';

export const METRIC_SETS: readonly BlockSet[] = [
  set('112', 112, true, `${COMPARE}. A national laboratory's worked stack fits it`, [
    ...singles('1.0005'),
    ...thousandths,
    ...hundredths,
    ...halves(24.5),
    ...wholes(25, 100, 25),
  ]),
  set('103', 103, true, `${COMPARE}. An encyclopaedia's worked stack fits it`, [
    ...singles('1.005'),
    ...hundredths,
    ...halves(24.5),
    ...wholes(25, 100, 25),
  ]),
  set('88', 88, false, 'A public metrology presentation lists the series', [
    ...singles('1.0005'),
    ...thousandths,
    ...hundredths,
    ...halves(9.5),
    ...wholes(10, 100, 10),
  ]),
  set('87', 87, true, `${COMPARE}. The 88-piece set without 1.0005`, [
    ...thousandths,
    ...hundredths,
    ...halves(9.5),
    ...wholes(10, 100, 10),
  ]),
  set('56', 56, false, 'A public page on slip gauges; as printed, 25 mm is in the case twice', [
    ...singles('1.0005'),
    ...thousandths,
    ...fewHundredths,
    ...tenths,
    ...wholes(1, 24),
    { size: '25', count: 2 },
    ...wholes(50, 75, 25),
  ]),
  set('47a', 47, true, `${COMPARE}. Two 47-piece sets exist: this one has 1 to 24 mm`, [
    ...singles('1.005'),
    ...fewHundredths,
    ...tenths,
    ...wholes(1, 24),
    ...wholes(25, 100, 25),
  ]),
  set('47b', 47, true, `${COMPARE}. Two 47-piece sets exist: this one has 1.01 to 1.19 mm`, [
    ...singles('1.005'),
    ...series(10_100, 11_900, 100, 2),
    ...series(12_000, 19_000, 1000, 1),
    ...wholes(1, 9),
    ...wholes(10, 100, 10),
  ]),
  set('46', 46, true, COMPARE, [
    ...thousandths,
    ...fewHundredths,
    ...tenths,
    ...wholes(1, 9),
    ...wholes(10, 100, 10),
  ]),
  set('45', 45, false, 'A public apprentice text on measuring: five series of nine', [
    ...thousandths,
    ...fewHundredths,
    ...tenths,
    ...wholes(1, 9),
    ...wholes(10, 90, 10),
  ]),
  set('32', 32, true, COMPARE, [
    ...singles('1.005'),
    ...fewHundredths,
    ...tenths,
    ...wholes(1, 9),
    ...wholes(10, 30, 10),
    ...singles('60'),
  ]),
];
