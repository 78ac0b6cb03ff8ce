import type { BlockGrade, LengthUnit } from '@taptrue/protocol';

/** Upper ends of the bands of nominal length, mm; the inch bands end at 0.4, 1, 2, 3, 4 in. */
const BANDS_MM = [10, 25, 50, 75, 100, 150];
const BANDS_IN_MM = [10.16, 25.4, 50.8, 76.2, 101.6];

/** Limit deviation of length at any point (te) and variation in length (tv), micrometres, band by band. */
const METRIC: Readonly<Record<string, readonly (readonly [te: number, tv: number])[]>> = {
  K: [
    [0.2, 0.05],
    [0.3, 0.05],
    [0.4, 0.06],
    [0.5, 0.06],
    [0.6, 0.07],
    [0.8, 0.08],
  ],
  '00': [
    [0.06, 0.05],
    [0.07, 0.05],
    [0.1, 0.06],
    [0.12, 0.06],
    [0.14, 0.07],
    [0.2, 0.08],
  ],
  '0': [
    [0.12, 0.1],
    [0.14, 0.1],
    [0.2, 0.1],
    [0.25, 0.12],
    [0.3, 0.12],
    [0.4, 0.14],
  ],
  '1': [
    [0.2, 0.16],
    [0.3, 0.16],
    [0.4, 0.18],
    [0.5, 0.18],
    [0.6, 0.2],
    [0.8, 0.2],
  ],
  '2': [
    [0.45, 0.3],
    [0.6, 0.3],
    [0.8, 0.3],
    [1, 0.35],
    [1.2, 0.35],
    [1.6, 0.4],
  ],
};

const METRIC_NAME: Readonly<Record<BlockGrade, string>> = {
  K: 'K',
  '00': '00',
  '0': '0',
  '1': '1',
  '2': '2',
  'AS-1': '1',
  'AS-2': '2',
};

export interface GradeLimit {
  teUm: number;
  tvUm: number;
  source: string;
  fromMemory: boolean;
}

/**
 * What a grade allows a block of this length. Grades AS-1 and AS-2 have the characteristics of 1 and 2
 * (abstract of ASME B89.1.9-2002). null: the table does not reach that far.
 */
export function gradeLimit(
  grade: BlockGrade,
  nominalMm: number,
  unit: LengthUnit,
): GradeLimit | null {
  const band = (unit === 'in' ? BANDS_IN_MM : BANDS_MM).findIndex((end) => nominalMm <= end + 1e-9);
  const row = METRIC[METRIC_NAME[grade]]?.[band];
  if (band < 0 || row === undefined) return null;
  return {
    teUm: row[0],
    tvUm: row[1],
    source: unit === 'in' ? 'ASME B89.1.9-2002 by way of ISO 3650' : 'ISO 3650 / DIN 861',
    fromMemory: grade === 'K',
  };
}
