import { firstQuestion } from '@taptrue/protocol';
import { combineBudget } from '@taptrue/server/plan/budget/combine.ts';
import { makePlan } from '@taptrue/server/plan/make-plan.ts';
import { gradeLimit } from '@taptrue/server/plan/sets/grades.ts';
import { STANDARD_SETS } from '@taptrue/server/plan/sets/standard-sets.ts';
import { describe, expect, it } from 'vitest';

describe('JCGM 100:2008, H.1, an end gauge', () => {
  const alpha = 11.5e-6;
  const lengthNm = 50_000_623;
  const inputs = [
    { standardUncertainty: 25, sensitivity: 1, degreesOfFreedom: 18 },
    { standardUncertainty: 9.7, sensitivity: 1, degreesOfFreedom: 25.6 },
    { standardUncertainty: 1.2e-6, sensitivity: 0, degreesOfFreedom: null },
    { standardUncertainty: 0.41, sensitivity: 0, degreesOfFreedom: null },
    {
      standardUncertainty: 1e-6 / Math.sqrt(3),
      sensitivity: -lengthNm * -0.1,
      degreesOfFreedom: 50,
    },
    {
      standardUncertainty: 0.05 / Math.sqrt(3),
      sensitivity: -lengthNm * alpha,
      degreesOfFreedom: 2,
    },
  ];
  const found = combineBudget(inputs, 0.99);

  it('is reproduced to its printed digits', () => {
    expect(found.contributions.map((one) => Number(one.toFixed(1)))).toEqual([
      25, 9.7, 0, 0, 2.9, 16.6,
    ]);
    expect(Math.round(found.combined)).toBe(32);
    // 16.73 from the printed uc² of 1002, 16.76 from unrounded parts; printed 16.7 and cut to 16.
    expect(Math.floor(found.degreesOfFreedom! * 10) / 10).toBe(16.7);
    expect(found.coverageFactor).toBeCloseTo(2.92, 2);
    // H.1.6 multiplies the printed figures: 2.92 times 32 nm is 93 nm.
    expect(Math.round(Number(found.coverageFactor.toFixed(2)) * Math.round(found.combined))).toBe(
      93,
    );
  });

  it('needs the unrounded sum: from the printed 32 nm the degrees of freedom would be 17', () => {
    const rounded = combineBudget(
      [...inputs.slice(0, 5), { ...inputs[5]!, standardUncertainty: 0.0303 }],
      0.99,
    );
    expect(found.degreesOfFreedom).not.toBeCloseTo(rounded.degreesOfFreedom!, 1);
    expect(
      combineBudget([{ standardUncertainty: 9.7, sensitivity: 1, degreesOfFreedom: 25.6 }])
        .coverageFactor,
    ).toBeCloseTo(2.06, 2);
  });

  it('of the difference joins its three parts to 9.7 nm with 25.6 degrees of freedom', () => {
    const parts = combineBudget(
      [
        [5.8, 24],
        [3.9, 5],
        [6.7, 8],
      ].map(([u, freedom]) => ({
        standardUncertainty: u!,
        sensitivity: 1,
        degreesOfFreedom: freedom!,
      })),
    );
    expect(parts.combined).toBeCloseTo(9.7, 1);
    expect(parts.degreesOfFreedom).toBeCloseTo(25.6, 0);
  });
});

describe('grades of gauge blocks', () => {
  // DIN 861, corresponding to ISO 3650:1998, from a public table; the K column is from memory.
  it.each([
    ['00', [0.06, 0.07, 0.1, 0.12, 0.14, 0.2]],
    ['0', [0.12, 0.14, 0.2, 0.25, 0.3, 0.4]],
    ['1', [0.2, 0.3, 0.4, 0.5, 0.6, 0.8]],
    ['2', [0.45, 0.6, 0.8, 1, 1.2, 1.6]],
    ['K', [0.2, 0.3, 0.4, 0.5, 0.6, 0.8]],
  ] as const)('%s allows', (grade, limits) => {
    expect([10, 25, 50, 75, 100, 150].map((mm) => gradeLimit(grade, mm, 'mm')!.teUm)).toEqual(
      limits,
    );
    expect(gradeLimit(grade, 10.01, 'mm')!.teUm).toBe(limits[1]);
    expect(gradeLimit(grade, 151, 'mm')).toBeNull();
  });

  it('are the same in an inch set under other names', () => {
    // Abstract of ASME B89.1.9-2002; limits in microinches derived from the metric table.
    expect(
      [0.4, 1, 2, 3, 4].map((inch) =>
        Math.round(gradeLimit('AS-1', inch * 25.4, 'in')!.teUm / 0.0254),
      ),
    ).toEqual([8, 12, 16, 20, 24]);
    expect(
      [0.4, 1, 2, 3, 4].map((inch) =>
        Math.round(gradeLimit('AS-2', inch * 25.4, 'in')!.teUm / 0.0254),
      ),
    ).toEqual([18, 24, 31, 39, 47]);
  });
});

describe('3 µm of centre distance on a 100 mm bar (IS 5359:1969)', () => {
  // d(angle) = tan(angle) dL / L, computed.
  it.each([
    [5, 0.54],
    [15, 1.66],
    [30, 3.57],
    [45, 6.19],
    [60, 10.72],
  ])('at %d degrees is %f seconds', (deg, arcsec) => {
    const question = {
      ...firstQuestion(),
      angle: { text: `${deg}deg`, kind: 'angle' as const },
      setId: 'metric-112',
      bar: {
        length: '100mm',
        lengthIs: 'nominal' as const,
        lengthUncertainty: null,
        rollDiameter: null,
      },
    };
    const made = makePlan(question, STANDARD_SETS);
    if (!made.ok) throw new Error(made.fault.what);
    const line = made.answer.budget!.lines.find(
      (one) => one.name === 'distance of the roll centres',
    )!;
    expect(line.arcsec * Math.sqrt(3)).toBeCloseTo(arcsec, 2);
  });
});
