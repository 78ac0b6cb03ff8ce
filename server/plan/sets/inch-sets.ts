import type { BlockSet } from '@taptrue/protocol';
import { series, singles } from './series.ts';

const HANDBOOK = 'Handbook table after the federal block specification; compare it with the case';

export const INCH_SETS: readonly BlockSet[] = [
  {
    id: 'inch-81',
    title: '81 pieces, inch',
    unit: 'in',
    source: 'two published lists that agree',
    fromMemory: false,
    blocks: [
      ...series(1001, 1009, 1, 4),
      ...series(1010, 1490, 10, 3),
      ...series(500, 9500, 500, 3),
      ...series(10_000, 40_000, 10_000, 3),
    ],
  },
  {
    id: 'inch-36',
    title: '36 pieces, inch',
    unit: 'in',
    source: `${HANDBOOK} (set 8)`,
    fromMemory: true,
    blocks: [
      ...series(1001, 1009, 1, 4),
      ...series(1000, 1100, 10, 3),
      ...series(1200, 1900, 100, 3),
      ...series(2000, 5000, 1000, 3),
      ...singles('1.000', '2.000', '4.000', '0.050'),
    ],
  },
  {
    id: 'inch-28',
    title: '28 thin pieces, inch',
    unit: 'in',
    source: `${HANDBOOK} (set 6)`,
    fromMemory: true,
    blocks: [
      ...series(201, 209, 1, 4),
      ...series(210, 290, 10, 3),
      ...series(100, 900, 100, 3),
      ...singles('0.02005'),
    ],
  },
  {
    id: 'inch-21',
    title: '21 thin pieces, inch',
    unit: 'in',
    source: `${HANDBOOK} (set 5)`,
    fromMemory: true,
    blocks: [...series(101, 109, 1, 4), ...series(100, 200, 10, 3), ...singles('0.01005')],
  },
  {
    id: 'inch-20',
    title: '20 thin pieces, inch',
    unit: 'in',
    source: `${HANDBOOK} (set 9)`,
    fromMemory: true,
    blocks: [...series(501, 509, 1, 4), ...series(500, 590, 10, 3), ...singles('0.05005')],
  },
  {
    id: 'inch-long-8',
    title: '8 long pieces, inch',
    unit: 'in',
    source: `${HANDBOOK} (set 7)`,
    fromMemory: true,
    blocks: singles('5', '6', '7', '8', '10', '12', '16', '20'),
  },
];
