import {
  type AngleKind,
  checkerOf,
  firstQuestion,
  JobFile,
  type MeasuredFrom,
  PlanAnswer,
  type PlanQuestion,
} from '@taptrue/protocol';
import { readMeasuredAngle } from '@taptrue/server/plan/angle/measured-from.ts';
import { makePlan } from '@taptrue/server/plan/make-plan.ts';
import { STANDARD_SETS } from '@taptrue/server/plan/sets/standard-sets.ts';
import { setupSheet } from '@taptrue/server/plan/sheet/setup-sheet.ts';
import { describe, expect, it } from 'vitest';
import { runCli } from './run-cli.ts';

const ALONG: MeasuredFrom = { line: 'along the jaw' };
const SQUARE: MeasuredFrom = { line: 'square to the jaw' };
const ABOUT: MeasuredFrom = { line: 'centreline along the jaw' };
const VEE: MeasuredFrom = { line: 'centreline square to the jaw' };
const edge = (
  edgeAngle: string,
  cut: 'beyond the edge' | 'short of the edge' | 'across the jaw line',
): MeasuredFrom => ({ line: 'another edge', edgeAngle, cut });

/** Degrees and minutes as seconds of arc. */
const dm = (degrees: number, minutes = 0) => degrees * 3600 + minutes * 60;

function plan(text: string, measuredFrom: MeasuredFrom, change: Partial<PlanQuestion> = {}) {
  const question: PlanQuestion = {
    ...firstQuestion(),
    angle: { text, kind: 'angle' },
    measuredFrom,
    ...change,
  };
  const made = makePlan(question, STANDARD_SETS);
  if (!made.ok) throw new Error(`${made.field}: ${made.fault.what}`);
  return { question, answer: made.answer };
}

describe('from the angle written to the angle set', () => {
  // Plane geometry by hand; common practice, no source. Whole seconds of arc stay whole: compared with toBe.
  it.each<[string, AngleKind, MeasuredFrom, number]>([
    ['12deg30min', 'angle', ALONG, dm(12, 30)],
    ['77deg30min', 'angle', SQUARE, dm(12, 30)],
    ['77.5deg', 'angle', SQUARE, dm(12, 30)],
    ['77.7deg', 'angle', SQUARE, dm(12, 18)],
    ['90deg', 'angle', SQUARE, 0],
    ['0deg', 'angle', SQUARE, dm(90)],
    ['102deg30min', 'angle', SQUARE, dm(12, 30)],
    ['25deg', 'angle', ABOUT, dm(12, 30)],
    ['25deg', 'included angle', ALONG, dm(12, 30)],
    ['25deg', 'included angle', ABOUT, dm(12, 30)],
    ['60deg', 'angle', VEE, dm(60)],
    ['155deg', 'angle', VEE, dm(12, 30)],
    ['60deg', 'included angle', SQUARE, dm(60)],
    ['15deg', 'angle', edge('5deg', 'beyond the edge'), dm(20)],
    ['5deg', 'angle', edge('17deg30min', 'short of the edge'), dm(12, 30)],
    ['17deg30min', 'angle', edge('5deg', 'across the jaw line'), dm(12, 30)],
    ['77deg30min', 'angle', edge('90deg', 'short of the edge'), dm(12, 30)],
  ])('%s as %s from %j: %i seconds of arc', (text, kind, from, setArcsec) => {
    const read = readMeasuredAngle(text, kind, from);
    expect(read.ok ? read.value.setArcsec : read.fault.what).toBe(setArcsec);
  });

  it('halves a taper about its centreline once, whether the words or the picture say so', () => {
    // Machinery's Handbook, 31st ed., p. 695: 6 1/8 in/ft is 28°38'01" included, 14°19' half.
    const half = (kind: AngleKind, from: MeasuredFrom) => {
      const read = readMeasuredAngle('6.125in/ft', kind, from);
      return read.ok ? Math.round(read.value.setArcsec) : read.fault.what;
    };
    expect(half('taper included', ABOUT)).toBe(dm(14, 19));
    expect(half('taper half', ALONG)).toBe(dm(14, 19));
    expect(half('taper half', ABOUT)).toBe(dm(14, 19));
    expect(half('taper included', ALONG)).toBe(dm(28, 38) + 1);
  });

  it.each<[string, MeasuredFrom, string, string, string]>([
    ['91deg', ALONG, 'angle', 'angle-over-90', 'other hand'],
    ['181deg', SQUARE, 'angle', 'angle-over-90', 'smaller angle'],
    ['80deg', edge('15deg', 'beyond the edge'), 'angle', 'angle-over-90', 'other hand'],
    [
      '8deg',
      edge('5deg', 'short of the edge'),
      'angle of the edge',
      'edge-and-cut-crossed',
      'across',
    ],
    [
      '4deg',
      edge('5deg', 'across the jaw line'),
      'angle of the edge',
      'edge-and-cut-crossed',
      'short',
    ],
    ['4deg', edge('5', 'beyond the edge'), 'angle of the edge', 'unit-missing', '5deg'],
    ['4deg', edge('', 'beyond the edge'), 'angle of the edge', 'angle-missing', '12.5deg'],
    ['4deg', edge('95deg', 'beyond the edge'), 'angle of the edge', 'angle-over-90', 'acute'],
  ])('%s from %j is refused at the %s: %s', (text, from, field, code, remedy) => {
    const read = readMeasuredAngle(text, 'angle', from);
    expect(read.ok ? 'read' : [read.field, read.fault.code]).toEqual([field, code]);
    if (!read.ok) expect(read.fault.remedy).toContain(remedy);
  });
});

describe('the plan says what was written and what is set', () => {
  it.each<[string, MeasuredFrom, string]>([
    [
      '77deg30min',
      SQUARE,
      'Angle as written, 77° 30′ 00″ from the line square to the jaw: set 12° 30′ 00″, 90° less it.',
    ],
    [
      '12deg30min',
      ALONG,
      'Angle as written, 12° 30′ 00″ from the line along the jaw: set as written.',
    ],
    [
      '25deg',
      ABOUT,
      'Angle as written, 25° 00′ 00″ in all, about a centreline along the jaw: set 12° 30′ 00″, half of it.',
    ],
    [
      '15deg',
      edge('5deg', 'beyond the edge'),
      'Angle as written, 15° 00′ 00″ from the edge at 5° 00′ 00″ to the jaw: set 20° 00′ 00″, the edge’s 5° 00′ 00″ and it together.',
    ],
  ])('%s from %j', (text, from, sentence) => {
    const { answer } = plan(text, from);
    expect(answer.written.sentence).toBe(sentence);
    expect(checkerOf(PlanAnswer).check(answer)).toMatchObject({ ok: true });
  });

  it('and makes the stack of the angle set: 77°30′ from the square is the job of 12°30′', () => {
    const [turned, plain] = [plan('77deg30min', SQUARE).answer, plan('12deg30min', ALONG).answer];
    expect({ ...turned, written: plain.written }).toEqual(plain);
    // 5 in x sin 12°30′ = 1.0822 in, by hand.
    expect(turned.stack?.sumText).toBe('1.0822');
  });

  it('offers the complement where little from the square is much from the jaw', () => {
    const { answer } = plan('12deg30min', SQUARE);
    expect([answer.angle.dmsText, answer.offers.map(({ choice }) => choice)]).toEqual([
      '77° 30′ 00″',
      ['complement', 'as written'],
    ]);
  });

  it('allows half of the tolerance where half of the angle is set, for both sides are out by it', () => {
    const tolerance = { kind: 'angle', text: '10min' } as const;
    const { answer } = plan('25deg', ABOUT, { tolerance });
    expect(answer.toleranceArcsec).toBe(300);
    expect(answer.limitSentence).toContain('±0° 05′ 00″ on the half that is set');
    expect(plan('12deg30min', ALONG, { tolerance }).answer.toleranceArcsec).toBe(600);
    const byClass = { kind: 'iso 2768-1', class: 'm', shorterLeg: '40mm' } as const;
    expect(plan('25deg', ABOUT, { tolerance: byClass }).answer.toleranceArcsec).toBe(15 * 60);
  });

  it('prints both on the setup sheet, with the edge that was noted', () => {
    const { question, answer } = plan('77deg30min', SQUARE, { referenceLine: 'datum B' });
    const sheet = setupSheet(question, answer, 'a4', '2026-01-01');
    for (const text of [
      '77° 30′ 00″',
      'the line square to the jaw: datum B',
      '12° 30′ 00″ = 12.5°',
    ])
      expect(sheet).toContain(text);
  });
});

describe('jobs kept before the line could be chosen', () => {
  it('open as measured from the line along the jaw', () => {
    const { measuredFrom: _, ...old } = firstQuestion();
    const question = { ...old, angle: { text: '12deg30min', kind: 'angle' as const } };
    const file = checkerOf(JobFile).check({ taptrueJob: 1, question, taken: [] });
    if (!file.ok) throw new Error(file.why);
    const made = makePlan(file.value.question, STANDARD_SETS);
    expect(made.ok && made.answer.written).toMatchObject({
      isTurned: false,
      from: 'the line along the jaw',
    });
  });
});

describe('taptrue plan and stack --from', () => {
  const BAR = ['--bar', '5in', '--set', 'inch-81'];

  it.each([
    [['--angle', '77deg30min', '--from', 'square-to-jaw'], '12° 30′ 00″'],
    [['--angle', '25deg', '--from', 'centreline'], '12° 30′ 00″'],
    [['--angle', '155deg', '--from', 'square-centreline'], '12° 30′ 00″'],
    [
      ['--angle', '7deg30min', '--from', 'edge', '--edge-angle', '5deg', '--cut', 'beyond'],
      '12° 30′ 00″',
    ],
    [['--angle', '12deg30min', '--from', 'along-jaw'], '12° 30′ 00″'],
    [['--angle', '12deg30min'], '12° 30′ 00″'],
  ])('%j', async (args, set) => {
    const planned = await runCli('plan', ...args, ...BAR, '--json');
    expect(JSON.parse(planned.out).angle.dmsText).toBe(set);
    const stacked = await runCli('stack', ...args, ...BAR, '--json');
    expect(JSON.parse(stacked.out).sumIn).toBe(1.0822);
    expect([planned.code, stacked.code]).toEqual([0, 0]);
  });

  it('says in the report what was turned', async () => {
    const { out } = await runCli(
      'plan',
      '--angle',
      '77deg30min',
      '--from',
      'square-to-jaw',
      ...BAR,
    );
    expect(out).toContain('77° 30′ 00″ from the line square to the jaw: set 12° 30′ 00″');
  });

  it.each([
    [['--from', 'datum A'], 'along-jaw, square-to-jaw'],
    [['--from', 'edge'], '--edge-angle is missing'],
    [['--from', 'edge', '--edge-angle', '5deg'], '--cut: it is missing'],
    [['--from', 'edge', '--edge-angle', '5deg', '--cut', 'off'], '"off" is not known here'],
    [['--from', 'square-to-jaw', '--cut', 'short'], 'belong to --from edge'],
  ])('%j is refused with exit 3', async (args, says) => {
    for (const command of ['plan', 'stack']) {
      const { code, err } = await runCli(command, '--angle', '20deg', ...args, ...BAR);
      expect([code, err.includes(says)]).toEqual([3, true]);
    }
  });

  it('a height is not measured from anything', async () => {
    const { code, err } = await runCli(
      'stack',
      '--height',
      '1in',
      '--from',
      'square-to-jaw',
      '--set',
      'inch-81',
    );
    expect([code, err.includes('--from belongs to --angle')]).toEqual([3, true]);
  });
});
