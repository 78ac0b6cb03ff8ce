import { checkerOf, firstQuestion, PlanAnswer, type PlanQuestion } from '@taptrue/protocol';
import { checkTaken, makePlan } from '@taptrue/server/plan/make-plan.ts';
import { checkSet } from '@taptrue/server/plan/sets/read-set.ts';
import { STANDARD_SETS } from '@taptrue/server/plan/sets/standard-sets.ts';
import { setupSheet } from '@taptrue/server/plan/sheet/setup-sheet.ts';
import { describe, expect, it } from 'vitest';

function question(angle: string, change: Partial<PlanQuestion> = {}): PlanQuestion {
  return { ...firstQuestion(), angle: { text: angle, kind: 'angle' }, ...change };
}

function plan(angle: string, change: Partial<PlanQuestion> = {}) {
  const made = makePlan(question(angle, change), STANDARD_SETS);
  if (!made.ok) throw new Error(`${made.field}: ${made.fault.what}`);
  return made.answer;
}

const bar = (length: string) => ({
  length,
  lengthIs: 'nominal' as const,
  lengthUncertainty: null,
  rollDiameter: null,
});
const decide = (change: Partial<PlanQuestion['decisions']>) => ({
  decisions: { steep: null, shallow: null, nearest: null, ...change },
});

describe('a plan', () => {
  it('goes from 7 30 plus or minus 5 minutes to stack, hand and limit, and keeps to the schema', () => {
    const answer = plan('7deg30min', { tolerance: { kind: 'angle', text: '±5min' } });
    expect(checkerOf(PlanAnswer).check(answer)).toMatchObject({ ok: true });
    expect(answer.stack?.sumText).toBe('0.6526');
    expect(answer.limit).toEqual({
      kind: 'angle',
      rad: expect.closeTo((75 / 648_000) * Math.PI, 12),
    });
    expect(answer.direction).toMatchObject({
      turn: 'counter-clockwise',
      endAway: 'right',
      stackEnd: 'right',
      sweepAxis: 'x',
    });
  });

  // The table of the geometry: rear jaw as it stands, front jaw and complement each mirrored.
  it.each([
    ['30deg', 'right-away', 'rear', null, 'right', 'counter-clockwise'],
    ['30deg', 'left-away', 'rear', null, 'left', 'clockwise'],
    ['30deg', 'right-away', 'front', null, 'left', 'counter-clockwise'],
    ['60deg', 'right-away', 'rear', 'complement', 'left', 'counter-clockwise'],
    ['60deg', 'left-away', 'rear', 'complement', 'right', 'clockwise'],
    ['60deg', 'right-away', 'rear', 'as written', 'right', 'counter-clockwise'],
  ] as const)(
    '%s, %s, solid jaw at the %s, %s: stack %s, turn %s',
    (angle, hand, solid, steep, stackEnd, turn) => {
      const { direction, picture } = plan(angle, {
        hand,
        jaw: { solid, width: null },
        ...decide({ steep }),
      });
      expect(direction).toMatchObject({ stackEnd, turn });
      // The bar lies on its axis: the jaw's turn and the bar's place in the vise add up to it.
      expect(picture.jawRad + picture.barInViseRad).toBeCloseTo(picture.barAxisRad, 12);
    },
  );

  it('offers the complement above 45 degrees and counts squareness once it is swept along Y', () => {
    expect(plan('60deg').offers.map((offer) => offer.choice)).toEqual(['complement', 'as written']);
    const answer = plan('60deg', decide({ steep: 'complement' }));
    expect([answer.barAngle?.deg, answer.direction.sweepAxis, answer.offers]).toEqual([
      expect.closeTo(30, 9),
      'y',
      [],
    ]);
    expect(answer.budget?.lines.map((line) => line.name)).toContain('squareness of X and Y');
  });

  it('says the nearest heights where none can be built, and takes the one decided on', () => {
    const open = plan('1deg');
    expect([open.stack, open.below?.sumText, open.above?.sumText]).toEqual([
      null,
      '0.0500',
      '0.1000',
    ]);
    const taken = plan('1deg', decide({ nearest: 'above' }));
    expect(taken.stack?.blocks).toEqual(['0.100']);
    expect(taken.angleSetDeg).toBeCloseTo((Math.asin(0.02) * 180) / Math.PI, 9);
  });

  it('puts blocks under both rolls so that only the difference counts', () => {
    const answer = plan('0.5deg', decide({ shallow: 'both rolls' }));
    expect((answer.stack?.sumIn ?? 0) - (answer.lowRollStack?.sumIn ?? 0)).toBeCloseTo(0.0436, 9);
  });

  it('builds both stacks at once from one set where the low one must be of a certain height', () => {
    const both = (lowStack: string) =>
      makePlan(
        question('0.5deg', { lowStack, ...decide({ shallow: 'both rolls' }) }),
        STANDARD_SETS,
      );
    const made = both('0.5in');
    if (!made.ok) throw new Error(made.fault.what);
    const { stack, lowRollStack } = made.answer;
    // 5 in x sin 0.5 degrees = 0.04363 in, by hand, over the 0.5 asked for.
    expect([lowRollStack?.sumText, stack?.sumText]).toEqual(['0.5000', '0.5436']);
    expect(new Set([...stack!.blocks, ...lowRollStack!.blocks]).size).toBe(
      stack!.blocks.length + lowRollStack!.blocks.length,
    );
    expect(made.answer.angleSetDeg).toBeCloseTo((Math.asin(0.0436 / 5) * 180) / Math.PI, 9);
    const refused = both('0.03in');
    expect(refused.ok ? 'planned' : [refused.field, refused.fault.code]).toEqual([
      'low stack',
      'low-stack-not-built',
    ]);
  });

  it('sweeps the jaw itself to the tangent, signed by the hand, and to nothing at 0 degrees', () => {
    expect(
      plan('1deg', { hand: 'left-away', ...decide({ shallow: 'sweep the jaw' }) }).targetSlope,
    ).toBeCloseTo(-Math.tan(Math.PI / 180), 12);
    expect(plan('0deg', { bar: null })).toMatchObject({
      way: 'jaw straight',
      targetSlope: 0,
      stack: null,
    });
  });

  it('says whether the bar fits the jaw', () => {
    expect(plan('10deg', { jaw: { solid: 'rear', width: '6in' } }).jawFit?.fits).toBe(true);
    expect(
      plan('10deg', { bar: bar('10in'), jaw: { solid: 'rear', width: '6in' } }).jawFit?.fits,
    ).toBe(false);
  });

  it('lets a measured sweep take the place of the planned one', () => {
    const measuredSweep = { standardUncertaintyArcsec: 2, degreesOfFreedom: 8 };
    const lines = plan('30deg', { budget: { ...firstQuestion().budget, measuredSweep } }).budget!
      .lines;
    expect(
      lines
        .filter((line) => /indicator|scatter|sweep/.test(line.name))
        .map((line) => [line.name, line.arcsec]),
    ).toEqual([['sweep', 2]]);
  });

  it('prints everything a hand needs, and no mark-up from what was typed', () => {
    const asked = question('12deg30min', { job: '<b>Bracket</b>', wear: '0.050' });
    const html = setupSheet(asked, plan('12deg30min', { wear: '0.050' }), 'a4', '2026-01-01');
    for (const text of [
      '12° 30′ 00″',
      'right roll',
      '0.050',
      'wear, outside',
      'swept true by',
      'counter-clockwise',
    ])
      expect(html).toContain(text);
    expect(html).not.toContain('<b>');
  });
});

describe('what is refused', () => {
  it.each<[string, Partial<PlanQuestion>, string, string]>([
    ['-5deg', {}, 'angle', 'negative-angle'],
    ['91deg', {}, 'angle', 'angle-over-90'],
    ['12,5,1deg', {}, 'angle', 'comma-decimal'],
    ['12deg75min', {}, 'angle', 'part-too-large'],
    ['12.5deg30min', {}, 'angle', 'decimal-before-minutes'],
    ['30min12deg', {}, 'angle', 'parts-out-of-order'],
    ['12deg30mm', {}, 'angle', 'unknown-unit'],
    ['', {}, 'angle', 'angle-missing'],
    ['12', {}, 'angle', 'unit-missing'],
    ['10deg', { bar: bar('5') }, 'bar', 'unit-missing'],
    ['10deg', { bar: bar('5in3mm') }, 'bar', 'not-a-length'],
    ['10deg', { bar: bar('1,270mm') }, 'bar', 'comma-decimal'],
    ['10deg', { bar: bar('0in') }, 'bar', 'no-length'],
    ['10deg', { bar: null }, 'bar', 'bar-missing'],
    ['10deg', { setId: 'inch-82' }, 'set', 'unknown-set'],
    ['10deg', { without: ['0.1234'] }, 'without', 'block-not-in-set'],
    ['10deg', { wear: '1mm' }, 'wear', 'malformed-block'],
    ['10deg', { wear: '0.450' }, 'wear', 'wear-too-thick'],
    [
      '10deg',
      { setUpShare: 0, tolerance: { kind: 'angle', text: '5min' } },
      'setUpShare',
      'share-out-of-range',
    ],
    ['10deg', { tolerance: { kind: 'angle', text: '5' } }, 'tolerance', 'unit-missing'],
  ])('%s %j: field %s, %s', (angle, change, field, code) => {
    const made = makePlan(question(angle, change), STANDARD_SETS);
    expect(made.ok ? 'planned' : [made.field, made.fault.code]).toEqual([field, code]);
    if (!made.ok) expect(made.fault.remedy).not.toBe('');
  });

  it('asks which was meant where minutes may have been typed as decimals', () => {
    const made = makePlan(question('12.30'), STANDARD_SETS);
    expect(made.ok ? [] : made.meanings?.map((meaning) => meaning.text)).toEqual([
      '12.30deg',
      '12deg30min',
    ]);
  });

  const set = (blocks: unknown[]) => ({
    id: 'mine',
    title: 'Mine',
    unit: 'mm',
    source: 'the case',
    fromMemory: false,
    grade: '1',
    blocks,
  });
  it.each([
    [[{ size: '1.005' }, { size: '1.0050' }], 'duplicate-block', '1.0050'],
    [[{ size: '1,00,5' }], 'malformed-block', '1,00,5'],
    [[{ size: '1.0052' }], 'malformed-block', '1.0052'],
    [[{ size: '0' }], 'malformed-block', '0'],
    [[{ size: '5', deviationUm: 201 }], 'absurd-deviation', '5'],
    [[{ size: '5', deviationUm: 0.1, deviationUin: 4 }], 'two-deviations', '5'],
    [[{ size: '5' }, { length: '6' }], 'malformed-set', 'number 2'],
  ])('a set with %j: %s, naming %s', (blocks, code, named) => {
    const read = checkSet(set(blocks));
    expect(read.ok ? 'read' : read.fault.code).toBe(code);
    if (!read.ok) expect(read.fault.what).toContain(named);
  });

  it('but not a deviation that a certificate could show', () => {
    expect(checkSet(set([{ size: '5', deviationUm: 0.2 }])).ok).toBe(true);
  });
});

describe('the re-add', () => {
  const check = (angle: string, taken: string[], change: Partial<PlanQuestion> = {}) => {
    const read = checkTaken(question(angle, change), STANDARD_SETS, taken);
    if (!read.ok) throw new Error(read.fault.what);
    return read.value;
  };

  it('accepts any order and any stack that adds up', () => {
    expect(check('10deg', ['.650', '0.1002', '0.118']).adds).toBe(true);
    expect(check('10deg', ['0.1002', '0.128', '0.140', '0.500']).adds).toBe(true);
  });

  // Angles by the trade's own arithmetic: asin(sum / bar).
  it.each<[string, string[], Partial<PlanQuestion>, string, number]>([
    ['10deg', ['0.102', '0.118', '0.650'], {}, 'tenth-for-thousandth', 10.021],
    ['10deg', ['0.1002', '0.118', '0.550'], { wear: '0.050' }, 'wear-pair-forgotten', 8.8384],
    ['10deg', ['0.1002', '0.118', '0.750'], {}, 'wrong-block', 11.1682],
    ['10deg', ['0.118', '0.650'], {}, 'block-left-out', 8.836],
    ['30deg', ['0.1008', '0.136', '0.650', '2.000'], {}, 'tangent-for-sine', 35.266],
    ['30deg', ['0.1002', '0.140', '0.700', '4.000'], {}, 'calculator-in-radians', 81.1297],
    ['12deg30min', ['0.1002', '0.115', '0.850'], {}, 'minutes-read-as-decimals', 12.3],
    ['30deg', ['0.500', '2.000'], { bar: bar('100mm') }, 'inch-and-metric-mixed', 39.418],
  ])('%s from %j: %j is named %s', (angle, taken, change, code, deg) => {
    const found = check(angle, taken, change);
    expect(found.adds).toBe(false);
    expect(found.slips.map((slip) => slip.code)).toContain(code);
    expect(found.slips[0]!.angleDeg).toBeCloseTo(deg, 2);
    expect(found.sentence).toContain('would make');
  });

  it('names a block that the set does not have, even where the sum is right', () => {
    expect(check('10deg', ['0.1002', '0.1002', '0.6678'])).toMatchObject({ adds: false });
    const mixed = check('10deg', ['1.005'], {});
    expect(mixed.slips[0]).toMatchObject({ code: 'inch-and-metric-mixed' });
  });
});
