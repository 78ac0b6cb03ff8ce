import { loadSetUps } from '@taptrue/server/records/set-ups/load-set-ups.ts';
import { judgeCircle } from '@taptrue/server/set-ups/circle/judge-circle.ts';
import type { CircleSetUp } from '@taptrue/server/set-ups/set-up.ts';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../devices/formats/seeded-bytes.ts';

// Geometry of its own, whole angles and whole circles: nothing here is taken from the product's formulas.
const rows = await loadSetUps();
const setUpOf = (name: string) => rows.find((row) => row.name === name) as CircleSetUp;

type Vector = readonly [number, number, number];

interface Taken {
  readonly rises: 'toward' | 'away';
  readonly face: 'bore' | 'boss' | null;
  readonly turns: 'spindle' | 'work' | null;
  readonly jawOneDeg: number | null;
}

const RAD = Math.PI / 180;
const PLACES = Array.from({ length: 12 }, (_each, index) => index * 30);

function judged(
  name: string,
  pressedMm: (deg: number) => number,
  taken: Taken,
  limitMm: number | null = null,
  noise = () => 0,
) {
  const points = PLACES.map((angleDeg) => ({
    angleDeg,
    readingMm: 1 + (taken.rises === 'toward' ? 1 : -1) * (pressedMm(angleDeg) + noise()),
  }));
  const outcome = judgeCircle({
    setUp: setUpOf(name),
    points,
    diameterMm: 200,
    displayUnit: 'mm',
    ...taken,
    limitMm,
    resolutionMm: 0.001,
    permissibleErrorMm: null,
    repeatabilityMm: null,
  });
  if (!outcome.ok) throw new Error(outcome.fault.what);
  return outcome.result;
}

/** How far a stylus 100 mm out from a leaning spindle is pressed by a level table, at a place seen from above. */
function pressedOnTable(topX: number, topY: number, deg: number): number {
  // The spindle's axis leans so that its top goes by these slopes; the stylus swings square to it.
  const axis = unit([topX, topY, 1]);
  const out: Vector = [Math.cos(deg * RAD), Math.sin(deg * RAD), 0];
  const along = dot(out, axis);
  const arm = unit([out[0] - along * axis[0], out[1] - along * axis[1], -along * axis[2]]);
  // Where the tip would be without a table, 100 mm out from the end of the spindle at height 50.
  const heightMm = 50 - 49 * axis[2] + 100 * arm[2];
  // The table, at height 0, pushes it back along the axis.
  return -heightMm / axis[2];
}

function unit(v: Vector): Vector {
  const size = Math.hypot(...v);
  return [v[0] / size, v[1] / size, v[2] / size];
}

function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** How far from the axis the wall of a circle of 100 mm stands in a direction, its centre at (cx, cy). */
function wallMm(cx: number, cy: number, deg: number): number {
  const [ux, uy] = [Math.cos(deg * RAD), Math.sin(deg * RAD)];
  const along = cx * ux + cy * uy;
  return along + Math.sqrt(100 * 100 - (cx * cx + cy * cy - along * along));
}

/** Pressing of the stylus: outward in a bore, where a nearer wall presses; inward on a boss. */
function pressedOnWall(cx: number, cy: number, placeDeg: number, face: 'bore' | 'boss'): number {
  const offMm = wallMm(cx, cy, placeDeg) - 100;
  return face === 'bore' ? -offMm : offMm;
}

const EIGHT_WAYS = [0, 45, 90, 135, 180, 225, 270, 315];
const NO_WALL = { face: null, turns: null, jawOneDeg: null };

describe('the head', () => {
  it.each(EIGHT_WAYS)('leaning toward %d° is sent back the other way, rises either way', (deg) => {
    const lean = 0.0002;
    const [topX, topY] = [lean * Math.cos(deg * RAD), lean * Math.sin(deg * RAD)];
    for (const rises of ['toward', 'away'] as const) {
      const { correction, tiltRad } = judged('head', (place) => pressedOnTable(topX, topY, place), {
        ...NO_WALL,
        rises,
      });
      expect(tiltRad).toBeCloseTo(lean, 9);
      // Over the diameter of 200 mm.
      expect(correction).toMatchObject({
        kind: 'tilt',
        amountMm: expect.closeTo(0.04, 6),
        xMm: expect.closeTo(-topX * 200, 6),
        yMm: expect.closeTo(-topY * 200, 6),
      });
    }
  });

  it('leaning right goes left, leaning back comes forward', () => {
    const said = (topX: number, topY: number) =>
      judged('head', (deg) => pressedOnTable(topX, topY, deg), { ...NO_WALL, rises: 'toward' })
        .correction;
    expect(said(0.0002, 0)).toMatchObject({ direction: 'left', where: 'top of the head' });
    expect(said(-0.0002, 0)).toMatchObject({ direction: 'right' });
    expect(said(0, 0.0002)).toMatchObject({ direction: 'toward' });
    expect(said(0, -0.0002)).toMatchObject({ direction: 'away' });
    expect(said(0.0002, 0.0002)).toMatchObject({ direction: 'left and toward' });
  });
});

const WALLS = (['bore', 'boss'] as const).flatMap((face) =>
  (['toward', 'away'] as const).flatMap((rises) =>
    (['spindle', 'work'] as const).map((turns) => ({ face, rises, turns })),
  ),
);

/** Pressing at an angle of the file: the place under the stylus, or the turn of the work under one that stands at 0. */
function pressedAt(cx: number, cy: number, deg: number, wall: (typeof WALLS)[number]): number {
  if (wall.turns === 'spindle') return pressedOnWall(cx, cy, deg, wall.face);
  const [cos, sin] = [Math.cos(deg * RAD), Math.sin(deg * RAD)];
  return pressedOnWall(cos * cx - sin * cy, sin * cx + cos * cy, 0, wall.face);
}

describe.each(WALLS)('a centre: $face, rises $rises, $turns turns', (wall) => {
  it.each(EIGHT_WAYS)('off toward %d° is moved back by what it is off', (deg) => {
    const [cx, cy] = [0.03 * Math.cos(deg * RAD), 0.03 * Math.sin(deg * RAD)];
    const result = judged('centre', (place) => pressedAt(cx, cy, place, wall), {
      ...wall,
      jawOneDeg: null,
    });
    expect(result.amplitudeMm).toBeCloseTo(0.03, 6);
    expect(result.correction).toMatchObject({
      kind: 'shift',
      amountMm: expect.closeTo(0.03, 6),
      xMm: expect.closeTo(-cx, 6),
      yMm: expect.closeTo(-cy, 6),
    });
  });

  it('is told in words that name the work', () => {
    const said = (cx: number, cy: number) =>
      judged('centre', (place) => pressedAt(cx, cy, place, wall), { ...wall, jawOneDeg: null })
        .correction;
    expect(said(0.03, 0)).toMatchObject({ direction: 'left', where: 'work' });
    expect(said(-0.03, 0)).toMatchObject({ direction: 'right' });
    expect(said(0, 0.03)).toMatchObject({ direction: 'toward' });
    expect(said(0, -0.03)).toMatchObject({ direction: 'away' });
  });

  it.each([0, 45, 90, 200])('four jaws, jaw one at %d°: the jaw on the far side goes in', (one) => {
    for (const jaw of [1, 2, 3, 4]) {
      const deg = one + 90 * (jaw - 1);
      const [cx, cy] = [0.03 * Math.cos(deg * RAD), 0.03 * Math.sin(deg * RAD)];
      const { correction } = judged('four-jaw', (place) => pressedAt(cx, cy, place, wall), {
        ...wall,
        jawOneDeg: one,
      });
      // The work stands out toward this jaw, so this jaw pushes it back.
      expect(correction).toMatchObject({ direction: 'in', where: `jaw ${jaw}` });
      expect(correction!.words).toContain(`tighten jaw ${jaw} by 0.030 mm`);
      const opposite = jaw > 2 ? jaw - 2 : jaw + 2;
      expect(correction!.words.toLowerCase()).toContain(`ease jaw ${opposite}`);
    }
  });
});

describe('followed on 1,000 seeds', () => {
  /** Follows the parts of the correction, each with the friction and backlash of a hand, until true. */
  function movesUntilTrue(
    seed: number,
    name: string,
    taken: Taken,
    pressed: (x: number, y: number, deg: number) => number,
    reach: number,
    perMm: number,
  ) {
    const random = seededRandom(seed);
    let [x, y] = [(random() * 2 - 1) * reach, (random() * 2 - 1) * reach];
    for (let moves = 0; moves <= 12; moves += 1) {
      const noise = () => (random() - 0.5) * 0.0015;
      const result = judged(name, (deg) => pressed(x, y, deg), taken, 0.012, noise);
      if (result.verdict === 'true') return moves;
      const { correction } = result;
      // A hand reaches what it aims at to a tenth and two microns.
      const hand = () => (0.9 + 0.2 * random()) * perMm;
      const slip = () => (random() - 0.5) * 0.004 * perMm;
      x += correction!.xMm * hand() + slip();
      y += correction!.yMm * hand() + slip();
    }
    return Number.POSITIVE_INFINITY;
  }

  it.each([
    ['head', { ...NO_WALL, rises: 'toward' as const }, pressedOnTable, 0.002, 1 / 200],
    [
      'centre',
      { ...NO_WALL, rises: 'away' as const, face: 'bore' as const },
      (x: number, y: number, deg: number) => pressedOnWall(x, y, deg, 'bore'),
      0.5,
      1,
    ],
    [
      'four-jaw',
      { rises: 'toward' as const, face: 'boss' as const, turns: null, jawOneDeg: 0 },
      (x: number, y: number, deg: number) => pressedOnWall(x, y, deg, 'boss'),
      0.5,
      1,
    ],
  ] as const)('%s comes inside 0.012 mm', (name, taken, pressed, reach, perMm) => {
    const moves = Array.from({ length: 1000 }, (_each, seed) =>
      movesUntilTrue(seed, name, taken, pressed, reach, perMm),
    );
    const mean = moves.reduce((sum, count) => sum + count, 0) / moves.length;
    expect(Math.max(...moves)).toBeLessThanOrEqual(6);
    expect(mean).toBeLessThan(3);
  });
});
