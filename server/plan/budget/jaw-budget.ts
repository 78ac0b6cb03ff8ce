import {
  arcsecFromRadians,
  type BlockGrade,
  type Budget,
  type BudgetAssumptions,
  type BudgetLine,
  type LengthUnit,
} from '@taptrue/protocol';
import { dmsText } from '../angle/echo-angle.ts';
import { gradeLimit } from '../sets/grades.ts';
import { combineBudget } from './combine.ts';

/** Steel: 11.5e-6 /K, ISO 3650 and JIS B 7506 practice. */
const STEEL_PER_K = 11.5e-6;

/** What is taken where nothing was said; each line that rests on one is marked as assumed. */
const USUAL = {
  grade: '1' as BlockGrade,
  wringUm: 0.01,
  barUm: { in: 5.08, mm: 3 },
  rollUm: 2,
  faceUm: 1,
  seatUm: 5.08,
  temperatureK: 1,
  indicatorUm: 2.54,
  scatterUm: 2.54,
  stations: 5,
  clampingUm: 5.08,
  squarenessUmPerM: 41.67,
} as const;

export interface JawBudgetQuestion {
  /** Bar against jaw, radians. 0 with `barMm` null: the jaw itself is swept. */
  barRad: number;
  barMm: number | null;
  barUnit: LengthUnit;
  /** Expanded (k = 2) from a certificate, mm; null: none. */
  barCertifiedMm: number | null;
  /** Every block that stands in the stacks, mm, with its grade and whether its deviation is certified. */
  blocks: readonly { mm: number; grade: BlockGrade | null; certified: boolean }[];
  setUnit: LengthUnit;
  sweptMm: number;
  jawMm: number;
  sweepAxis: 'x' | 'y';
  offsetArcsec: number;
  toleranceArcsec: number | null;
  known: BudgetAssumptions;
}

type Row = Omit<BudgetLine, 'arcsec'>;

const ROOT3 = Math.sqrt(3);

/** A limit either way, any value inside it as likely as another: half width over the root of three. */
function uniform(
  name: string,
  value: number | null,
  usual: number,
  unit: string,
  radPerUnit: number,
  source: string,
): Row {
  const half = value ?? usual;
  return {
    name,
    valueText: `±${Number(half.toFixed(3))} ${unit}`,
    distribution: 'uniform',
    standardUncertainty: half / ROOT3,
    unit,
    sensitivityArcsecPerUnit: arcsecFromRadians(radPerUnit),
    degreesOfFreedom: null,
    source: value === null ? source : 'as given',
    assumed: value === null,
  };
}

function stackRows(q: JawBudgetQuestion, barMm: number): Row[] {
  const perUm = 1e-3 / (barMm * Math.cos(q.barRad));
  const grade = (block: (typeof q.blocks)[number]) => q.known.grade ?? block.grade ?? USUAL.grade;
  const limits = q.blocks.map((block) => {
    const limit =
      gradeLimit(grade(block), block.mm, q.setUnit) ?? gradeLimit(grade(block), 100, q.setUnit)!;
    // What a certificate leaves open is not in the set: a fifth of the grade is taken, and marked as assumed.
    return { ...limit, teUm: block.certified ? limit.teUm / 5 : limit.teUm };
  });
  const blocksUm = Math.hypot(...limits.map((limit) => limit.teUm));
  const grades = [...new Set(q.blocks.map(grade))].join(', ');
  const isAssumed = q.known.grade === null && q.blocks.some((block) => block.grade === null);
  const isCertified = q.blocks.length > 0 && q.blocks.every((block) => block.certified);
  const blockRow = uniform(`length of ${q.blocks.length} blocks`, blocksUm, 0, 'µm', perUm, '');
  const joints = Math.max(0, q.blocks.length - 1);
  const rows = [
    {
      ...blockRow,
      source: isCertified
        ? 'certified; a fifth of the grade is taken as left open, no source'
        : `grade ${grades}, ${limits[0]?.source ?? 'no block'}`,
      assumed: isAssumed || isCertified,
    },
    uniform(
      'wringing',
      null,
      USUAL.wringUm * Math.sqrt(joints),
      'µm',
      perUm,
      'JIS B 7506 practice, below 0.01 µm a joint',
    ),
    uniform(
      'temperature, stack against bar',
      q.known.temperatureDifferenceK,
      USUAL.temperatureK,
      'K',
      STEEL_PER_K * Math.tan(q.barRad),
      'no source, soaked together; steel 11.5e-6 /K',
    ),
    uniform(
      'seat of bar and stack',
      q.known.seatUm,
      USUAL.seatUm,
      'µm',
      perUm,
      'common practice, 0.0002 in of dirt at a roll',
    ),
  ];
  return rows;
}

function barRows(q: JawBudgetQuestion, barMm: number): Row[] {
  const perUm = (1e-3 * Math.tan(q.barRad)) / barMm;
  const standard = q.barUnit === 'mm' ? 'IS 5359:1969, ±0.003 mm' : 'common practice, ±0.0002 in';
  const centre: Row =
    q.barCertifiedMm === null
      ? uniform(
          'distance of the roll centres',
          q.known.centreDistanceErrorUm,
          USUAL.barUm[q.barUnit],
          'µm',
          perUm,
          standard,
        )
      : {
          name: 'distance of the roll centres',
          valueText: `±${Number((q.barCertifiedMm * 1000).toFixed(3))} µm (k = 2)`,
          distribution: 'normal',
          standardUncertainty: (q.barCertifiedMm * 1000) / 2,
          unit: 'µm',
          sensitivityArcsecPerUnit: arcsecFromRadians(perUm),
          degreesOfFreedom: null,
          source: 'certificate',
          assumed: false,
        };
  return [
    centre,
    uniform(
      'difference of the roll diameters',
      q.known.rollDifferenceUm,
      USUAL.rollUm,
      'µm',
      0.5e-3 / (barMm * Math.cos(q.barRad)),
      'IS 5359:1969, 2 µm; half of it lifts the bar',
    ),
    uniform(
      'working face to roll axes',
      q.known.faceParallelUm,
      USUAL.faceUm,
      'µm',
      1e-3 / barMm,
      'IS 5359:1969, 1 µm',
    ),
  ];
}

function sweepRows(q: JawBudgetQuestion): Row[] {
  const measured = q.known.measuredSweep;
  if (measured) {
    return [
      {
        name: 'sweep',
        valueText: `${measured.standardUncertaintyArcsec.toFixed(1)}″`,
        distribution: 'measured',
        standardUncertainty: measured.standardUncertaintyArcsec,
        unit: '″',
        sensitivityArcsecPerUnit: 1,
        degreesOfFreedom: measured.degreesOfFreedom,
        source: 'the sweep itself, indicator included',
        assumed: false,
      },
    ];
  }
  const n = q.known.stations ?? USUAL.stations;
  const scatterUm = q.known.scatterUm ?? USUAL.scatterUm;
  // Standard error of a slope over n equal stations: s sqrt(12 (n - 1) / (n (n + 1))) / length.
  const perUm = (1e-3 * Math.sqrt((12 * (n - 1)) / (n * (n + 1)))) / q.sweptMm;
  const isAssumed = q.known.scatterUm === null || q.known.stations === null;
  return [
    uniform(
      'indicator over the range used',
      q.known.indicatorErrorUm,
      USUAL.indicatorUm,
      'µm',
      1e-3 / q.sweptMm,
      'common practice, 0.0001 in',
    ),
    {
      name: `scatter of ${n} stations`,
      valueText: `${Number(scatterUm.toFixed(3))} µm (1 s)`,
      distribution: 'normal',
      standardUncertainty: scatterUm,
      unit: 'µm',
      sensitivityArcsecPerUnit: arcsecFromRadians(perUm),
      degreesOfFreedom: null,
      source: isAssumed ? 'common practice, 0.0001 in' : 'as given',
      assumed: isAssumed,
    },
  ];
}

/** Uncertainty of the jaw's angle, line by line, each as seconds of arc. */
export function jawBudget(q: JawBudgetQuestion): Budget {
  const rows: Row[] = [];
  if (q.barMm !== null) rows.push(...stackRows(q, q.barMm), ...barRows(q, q.barMm));
  rows.push(...sweepRows(q));
  rows.push(
    uniform(
      'clamping, end against end',
      q.known.clampingUm,
      USUAL.clampingUm,
      'µm',
      1e-3 / q.jawMm,
      'common practice, 0.0002 in',
    ),
  );
  if (q.sweepAxis === 'y') {
    rows.push(
      uniform(
        'squareness of X and Y',
        q.known.squarenessUmPerM,
        USUAL.squarenessUmPerM,
        'µm/m',
        1e-6,
        'common practice, 0.0005 in in 12 in',
      ),
    );
  }
  const combined = combineBudget(
    rows.map((row) => ({
      standardUncertainty: row.standardUncertainty,
      sensitivity: row.sensitivityArcsecPerUnit,
      degreesOfFreedom: row.degreesOfFreedom,
    })),
  );
  const total = Math.abs(q.offsetArcsec) + combined.expanded;
  const shareOfTolerance = q.toleranceArcsec === null ? null : total / q.toleranceArcsec;
  return {
    lines: rows.map((row, i) => ({ ...row, arcsec: combined.contributions[i]! })),
    combinedArcsec: combined.combined,
    degreesOfFreedom: combined.degreesOfFreedom,
    coverageFactor: combined.coverageFactor,
    expandedArcsec: combined.expanded,
    offsetArcsec: q.offsetArcsec,
    toleranceArcsec: q.toleranceArcsec,
    shareOfTolerance,
    sentence: budgetSentence(combined.expanded, q, shareOfTolerance),
  };
}

function budgetSentence(expanded: number, q: JawBudgetQuestion, share: number | null): string {
  const size = `The jaw can be set to ±${dmsText(expanded)} (95 %)`;
  const offset =
    Math.abs(q.offsetArcsec) < 0.05
      ? ''
      : `, and the stack is off by ${Math.abs(q.offsetArcsec).toFixed(1)}″ beside that`;
  if (share === null || q.toleranceArcsec === null) return `${size}${offset}.`;
  const of = `${(share * 100).toFixed(0)} % of the ±${dmsText(q.toleranceArcsec)} on the print`;
  return share <= 1
    ? `${size}${offset}: ${of}.`
    : `${size}${offset}: ${of}, so this set-up cannot hold it. Use a longer bar, better blocks, or another method.`;
}
