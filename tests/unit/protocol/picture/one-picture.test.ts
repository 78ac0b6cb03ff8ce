import { type BenchState, handScene, plannedScene, sweptScene } from '@taptrue/protocol';
import {
  drawLineChoice,
  drawSetUp,
  drawStrike,
  drawSwept,
  type LineChoice,
  type Mark,
  setUpLayout,
  svgText,
  sweptLayout,
  visePartsOf,
} from '@taptrue/protocol/picture';
import { sheetPicture } from '@taptrue/server/plan/sheet/picture.ts';
import { describe, expect, it } from 'vitest';
import { examplePlanBuilt, planOf } from '../../../browser/example-plans.ts';
import { resultNotTrue } from '../../../browser/example-states.ts';

const SIZE = { widthPx: 700, heightPx: 400 };
const MARGINS = { wordPx: 34, sidePx: 44 };

const angle = (text: string) => ({ angle: { text, kind: 'angle' as const } });

/** The bench of the example with this plan carried into its sweep. */
function inUse({ plan }: BenchState): BenchState {
  const state = resultNotTrue();
  const axis = plan.answer!.direction.sweepAxis;
  return { ...state, setup: { ...state.setup, axis }, plan: { ...plan, inUse: true } };
}

function flat(marks: readonly Mark[]): Mark[] {
  return marks.flatMap((mark) => (mark.kind === 'group' ? [mark, ...flat(mark.marks)] : [mark]));
}

function partsOf(marks: readonly Mark[]): Set<string> {
  return new Set(flat(marks).flatMap(({ part }) => part.split(' ')));
}

/** Corners of the first path of a part. */
function cornersOf(marks: readonly Mark[], part: string): { x: number; y: number }[] {
  const path = flat(marks).find((mark) => mark.kind === 'path' && mark.part === part);
  if (path?.kind !== 'path') throw new Error(`no ${part}`);
  return [...path.d.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => ({
    x: Number(x),
    y: Number(y),
  }));
}

function setUp(state: BenchState) {
  const scene = plannedScene(state.plan.question, state.plan.answer);
  const layout = setUpLayout(scene, SIZE, MARGINS);
  return { scene, layout, marks: drawSetUp(scene, layout) };
}

function swept(state: BenchState) {
  const scene = sweptScene(state);
  const layout = sweptLayout(scene, SIZE);
  return { scene, layout, marks: [...drawSwept(scene, layout, SIZE), ...drawStrike(layout)] };
}

describe('one picture for plan, sweep and paper', () => {
  const planned = examplePlanBuilt();

  it('has the same parts in all of them', () => {
    const onPlan = partsOf(setUp(planned).marks);
    const onSweep = partsOf(swept(inUse(planned)).marks);
    const { question, answer } = planned.plan;
    const onPaper = new Set(
      [...sheetPicture(question, answer!).matchAll(/class="([^"]+)"/g)].flatMap(([, part]) =>
        part!.split(' '),
      ),
    );
    const parts = [
      'vise-bed',
      'vise-rail',
      'jaw',
      'jaw-plate',
      'screw',
      'swivel',
      'bar',
      'roll',
      'stack',
      'stack-joint',
      'washer',
      'bolt',
      'pivot',
      'mallet',
      'arrow',
      'wanted-line',
    ];
    for (const part of parts)
      expect([part, onPlan.has(part), onSweep.has(part), onPaper.has(part)]).toEqual([
        part,
        true,
        true,
        true,
      ]);
  });

  it.each(['7deg30min', '22deg30min', '33deg'])(
    'the vise at %s has the same proportions and the same lie under the indicator as in the plan',
    (text) => {
      const state = planOf({ ...angle(text), hand: 'left-away' });
      const [plan, sweep] = [setUp(state), swept(inUse(state))];
      for (const part of ['vise-bed', 'stack', 'bar', 'jaw-plate']) {
        const [a, b] = [cornersOf(plan.marks, part), cornersOf(sweep.marks, part)];
        const scale = sweep.layout.perMm / plan.layout.pxPerMm;
        a.forEach((corner, index) => {
          const [from, to] = [a[0]!, b[0]!];
          expect(b[index]!.x - to.x).toBeCloseTo((corner.x - from.x) * scale, -0.3);
          expect(b[index]!.y - to.y).toBeCloseTo((corner.y - from.y) * scale, -0.3);
        });
      }
    },
  );

  it('turns the picture with the axis: swept along Y the bar lies level there too', () => {
    const state = planOf({
      ...angle('60deg'),
      decisions: { steep: 'complement', shallow: null, nearest: null },
    });
    expect(setUp(state).layout.axis.name).toBe('Y');
    const face = swept(inUse(state)).layout;
    const { scene } = swept(inUse(state));
    const { rolls } = visePartsOf(scene.vise).bar;
    const [first, second] = rolls.map((roll) => face.place(roll.at));
    expect(first!.y).toBeCloseTo(second!.y, 6);
  });

  it('keeps the vise of the bench while the plan is not in use', () => {
    const state = { ...resultNotTrue(), plan: planned.plan };
    expect(sweptScene(state).vise).toMatchObject({ jawRad: 0, bar: { kind: 'flat' } });
    expect(sweptScene(inUse(planned)).vise).toMatchObject({ bar: { kind: 'sine' } });
  });

  it('stays inside the drawing where the whole vise fits, and keeps the bar long where it does not', () => {
    for (const text of ['5deg', '20deg', '44deg']) {
      const { layout, scene } = swept(inUse(planOf(angle(text))));
      const along = layout.xPx(scene.sweptLengthMm) - layout.xPx(0);
      expect(along).toBeGreaterThan(SIZE.widthPx * 0.3);
      expect(layout.wantedYPx).toBeGreaterThan(SIZE.heightPx * 0.3);
      expect(layout.wantedYPx).toBeLessThan(SIZE.heightPx * 0.7);
    }
  });

  it('has the mallet in the picture wherever it strikes', () => {
    for (const text of ['5deg', '44deg'])
      for (const hand of ['left-away', 'right-away'] as const) {
        const { layout } = swept(inUse(planOf({ ...angle(text), hand })));
        expect(layout.mallet!.at.y).toBeGreaterThanOrEqual(25);
        expect(layout.mallet!.at.y).toBeLessThanOrEqual(SIZE.heightPx - 25);
      }
  });
});

describe('the hand on the picture', () => {
  // The table of the geometry: right end away is counter-clockwise, seen from above, whichever jaw is solid.
  it.each([
    ['right-away', 'rear', 'right'],
    ['right-away', 'front', 'right'],
    ['left-away', 'rear', 'left'],
    ['left-away', 'front', 'left'],
  ] as const)('%s, solid jaw at the %s: the %s end is drawn higher', (hand, solid, end) => {
    const scene = handScene(hand, solid);
    const layout = setUpLayout(scene, SIZE, MARGINS);
    const plate = [-1, 1].map((side) => layout.place({ x: side * 70, y: 0 }));
    const [left, right] = plate;
    expect(left!.x).toBeLessThan(right!.x);
    expect(right!.y < left!.y ? 'right' : 'left').toBe(end);
    const jaw = layout.place({ x: 0, y: -10 });
    const bed = layout.place({ x: 0, y: 20 });
    expect(jaw.y < bed.y ? 'rear' : 'front').toBe(solid);
  });
});

describe('the pictures a reference line is chosen on', () => {
  const CHOICES: LineChoice[] = [
    'along the jaw',
    'square to the jaw',
    'centreline along the jaw',
    'centreline square to the jaw',
    'beyond the edge',
    'short of the edge',
    'across the jaw line',
  ];
  const small = { widthPx: 190, heightPx: 140 };
  const wayOf = ([from, to]: { x: number; y: number }[]) =>
    Math.atan2(-(to!.y - from!.y), to!.x - from!.x);
  /** Of two lines, 0 to 90 degrees. */
  const between = (a: number, b: number) => {
    const rad = Math.abs(a - b) % Math.PI;
    return (Math.min(rad, Math.PI - rad) * 180) / Math.PI;
  };

  for (const hand of ['right-away', 'left-away'] as const)
    for (const solid of ['rear', 'front'] as const)
      it.each(CHOICES)(
        `%s, ${hand}, solid jaw at the ${solid}: the cut lies along the table`,
        (choice) => {
          const marks = drawLineChoice(choice, hand, solid, small);
          const cut = cornersOf(marks, 'cut-edge');
          expect(Math.abs(cut[0]!.y - cut[1]!.y)).toBeLessThan(0.2);
          const spots = ['jaw', 'work', 'reference-line', 'angle-arc'].flatMap((part) =>
            cornersOf(marks, part),
          );
          for (const { x, y } of spots) {
            expect(x).toBeGreaterThan(0);
            expect(x).toBeLessThan(small.widthPx);
            expect(y).toBeGreaterThan(0);
            expect(y).toBeLessThan(small.heightPx);
          }
          // The end that goes away lies higher, as on the picture the hand is chosen on.
          const [a, b] = cornersOf(marks, 'jaw') as [
            { x: number; y: number },
            { x: number; y: number },
          ];
          const [left, right] = a.x < b.x ? [a, b] : [b, a];
          expect(right.y < left.y ? 'right-away' : 'left-away').toBe(hand);
        },
      );

  it.each<[LineChoice, (line: number, jaw: number, cut: number) => void]>([
    ['along the jaw', (line, jaw) => expect(between(line, jaw)).toBeLessThan(1)],
    ['square to the jaw', (line, jaw) => expect(between(line, jaw)).toBeGreaterThan(89)],
    ['centreline along the jaw', (line, jaw) => expect(between(line, jaw)).toBeLessThan(1)],
    ['centreline square to the jaw', (line, jaw) => expect(between(line, jaw)).toBeGreaterThan(89)],
    [
      'beyond the edge',
      (line, jaw, cut) =>
        expect(between(line, jaw) + between(line, cut)).toBeCloseTo(between(jaw, cut), 0),
    ],
    [
      'short of the edge',
      (line, jaw, cut) =>
        expect(between(line, jaw) - between(line, cut)).toBeCloseTo(between(jaw, cut), 0),
    ],
    [
      'across the jaw line',
      (line, jaw, cut) =>
        expect(between(line, cut) - between(line, jaw)).toBeCloseTo(between(jaw, cut), 0),
    ],
  ])('%s: the lines drawn stand to each other as the words say', (choice, holds) => {
    const marks = drawLineChoice(choice, 'right-away', 'rear', { widthPx: 1900, heightPx: 1400 });
    holds(
      wayOf(cornersOf(marks, 'reference-line')),
      wayOf(cornersOf(marks, 'jaw')),
      wayOf(cornersOf(marks, 'cut-edge')),
    );
  });
});

describe('marks as text for paper', () => {
  it('writes each part as a class and takes no mark-up from a word', () => {
    const text = svgText([
      { kind: 'circle', part: 'roll', at: { x: 1.04, y: 2 }, r: 3 },
      { kind: 'group', part: 'stylus', transform: 'rotate(90)', marks: [] },
      { kind: 'word', part: 'side-word', at: { x: 0, y: 0 }, anchor: 'end', text: '<b>&' },
    ]);
    expect(text).toBe(
      '<circle class="roll" cx="1" cy="2" r="3"/><g class="stylus" transform="rotate(90)"></g>' +
        '<text class="side-word" x="0" y="0" text-anchor="end">&lt;b&gt;&amp;</text>',
    );
  });
});
