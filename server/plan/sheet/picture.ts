import type { PlanPicture } from '@taptrue/protocol';

interface Point {
  x: number;
  y: number;
}

/** Depth of the solid jaw and of the bar's body, drawn to the scale of the jaw; no number hangs on them. */
const JAW_DEPTH_SHARE = 0.16;
const BAR_DEPTH_SHARE = 0.08;

/** Paper y runs down: away from the operator is up. Turning counter-clockwise is positive. */
function turned(point: Point, rad: number): Point {
  const [c, s] = [Math.cos(rad), Math.sin(rad)];
  return { x: point.x * c + point.y * s, y: -point.x * s + point.y * c };
}

const at = (point: Point) => `${point.x.toFixed(1)},${point.y.toFixed(1)}`;

/** Everything of the drawing in millimetres of the real thing, in the frame of the paper. */
class Drawing {
  readonly shapes: string[] = [];
  readonly points: Point[] = [];
  private readonly jawRad: number;
  private readonly flip: 1 | -1;

  constructor(jawRad: number, solidJaw: 'rear' | 'front') {
    this.jawRad = jawRad;
    this.flip = solidJaw === 'rear' ? 1 : -1;
  }

  /** From the frame of the vise (x along the jaw, depth from its face outward) to paper. */
  place(x: number, depth: number): Point {
    const point = turned({ x, y: depth * this.flip }, this.jawRad);
    this.points.push(point);
    return point;
  }

  polygon(kind: string, corners: readonly (readonly [number, number])[]): void {
    const placed = corners.map(([x, depth]) => at(this.place(x, depth)));
    this.shapes.push(`<polygon class="${kind}" points="${placed.join(' ')}"/>`);
  }

  circle(kind: string, x: number, depth: number, radius: number): void {
    const { x: cx, y: cy } = this.place(x, depth);
    this.points.push({ x: cx - radius, y: cy - radius }, { x: cx + radius, y: cy + radius });
    this.shapes.push(
      `<circle class="${kind}" cx="${cx.toFixed(1)}" cy="${cy.toFixed(1)}" r="${radius.toFixed(1)}"/>`,
    );
  }

  label(
    text: string,
    point: Point,
    size: number,
    anchor: 'start' | 'middle' | 'end' = 'middle',
  ): void {
    const half = text.length * size * 0.56;
    const left = anchor === 'start' ? 0 : anchor === 'middle' ? half / 2 : half;
    this.points.push(
      { x: point.x - left, y: point.y - size },
      { x: point.x - left + half, y: point.y + size * 0.4 },
    );
    this.shapes.push(
      `<text x="${point.x.toFixed(1)}" y="${point.y.toFixed(1)}" font-size="${size.toFixed(1)}" text-anchor="${anchor}">${text}</text>`,
    );
  }
}

function drawStack(drawing: Drawing, x: number, heightMm: number, width: number): void {
  if (heightMm <= 0) return;
  drawing.polygon('stack', [
    [x - width / 2, 0],
    [x + width / 2, 0],
    [x + width / 2, heightMm],
    [x - width / 2, heightMm],
  ]);
}

/** Bar on its rolls against the jaw; gives the middle of the working face, in the frame of the vise. */
function drawBar(
  drawing: Drawing,
  picture: PlanPicture,
  barMm: number,
  rollMm: number,
): readonly [number, number] {
  const side = picture.stackEnd === 'left' ? -1 : 1;
  const radius = rollMm / 2;
  const low = picture.lowRollStackMm ?? 0;
  // Where the blocks are not decided, the height follows from the angle.
  const tilt = Math.abs(Math.sin(picture.barInViseRad)) * barMm;
  const high = low + tilt;
  const reach = Math.sqrt(Math.max(0, barMm ** 2 - tilt ** 2)) / 2;
  const [lowX, highX] = [-side * reach, side * reach];
  drawStack(drawing, lowX, low, rollMm * 0.8);
  drawStack(drawing, highX, high, rollMm * 0.8);
  const along = { x: (highX - lowX) / barMm, y: tilt / barMm };
  const outward = side > 0 ? { x: -along.y, y: along.x } : { x: along.y, y: -along.x };
  const depth = barMm * BAR_DEPTH_SHARE;
  const corner = (x: number, y: number, beyond: number, out: number): readonly [number, number] => [
    x + along.x * beyond + outward.x * out,
    y + along.y * beyond + outward.y * out,
  ];
  const [lowY, highY] = [low + radius, high + radius];
  drawing.polygon('bar', [
    corner(lowX, lowY, -radius, 0),
    corner(highX, highY, radius, 0),
    corner(highX, highY, radius, radius + depth),
    corner(lowX, lowY, -radius, radius + depth),
  ]);
  drawing.circle('roll', lowX, lowY, radius);
  drawing.circle('roll', highX, highY, radius);
  return corner((lowX + highX) / 2, (lowY + highY) / 2, 0, radius + depth);
}

/** The set-up seen from above, operator at the bottom, true to scale in angle and length, as SVG text. */
export function sheetPicture(picture: PlanPicture): string {
  const drawing = new Drawing(picture.jawRad, picture.solidJaw);
  const width = picture.jawWidthMm;
  const half = width / 2;
  const jaw = width * JAW_DEPTH_SHARE;
  const size = width * 0.042;
  drawing.polygon('jaw', [
    [-half, 0],
    [half, 0],
    [half, -jaw],
    [-half, -jaw],
  ]);
  const touch =
    picture.barLengthMm === null
      ? ([0, 0] as const)
      : drawBar(
          drawing,
          picture,
          picture.barLengthMm,
          picture.rollDiameterMm ?? picture.barLengthMm * 0.1,
        );

  const pivotX = (picture.pivotEnd === 'left' ? -1 : 1) * half * 0.86;
  const malletX = -pivotX;
  drawing.circle('clamp', pivotX, -jaw / 2, size * 0.7);
  drawing.circle('clamp-loose', malletX, -jaw / 2, size * 0.7);
  for (const [name, x] of [
    ['mallet end', malletX],
    ['pivot clamp', pivotX],
  ] as const) {
    // Behind the jaw, clear of it whichever way it lies.
    const edge = drawing.place(x, -jaw);
    const behind = drawing.place(x, -jaw - size * 1.4);
    const aside = behind.x - edge.x;
    const anchor = Math.abs(aside) < size * 0.7 ? 'middle' : aside > 0 ? 'start' : 'end';
    drawing.label(name, { x: behind.x, y: behind.y + size * 0.3 }, size, anchor);
  }
  if (picture.stackEnd !== null && picture.barLengthMm !== null) {
    const side = picture.stackEnd === 'left' ? -1 : 1;
    const reach = (picture.barLengthMm / 2) * Math.cos(picture.barInViseRad);
    const beside = drawing.place(
      side * (Math.max(reach + size * 2, half) + size),
      (picture.stackMm ?? 0) / 2 + size * 0.4,
    );
    drawing.label('stack', beside, size, beside.x >= 0 ? 'start' : 'end');
  }

  // The stylus comes square onto the face that lies along the axis swept.
  const tip = drawing.place(touch[0], touch[1]);
  const facing = picture.solidJaw === 'rear' ? 1 : -1;
  const push = turned(
    { x: 0, y: facing },
    picture.barLengthMm === null ? picture.jawRad : picture.barAxisRad,
  );
  const base = { x: tip.x + push.x * size * 3, y: tip.y + push.y * size * 3 };
  drawing.points.push(base);
  drawing.shapes.push(
    `<line class="stylus" x1="${tip.x.toFixed(1)}" y1="${tip.y.toFixed(1)}" x2="${base.x.toFixed(1)}" y2="${base.y.toFixed(1)}"/><circle class="tip" cx="${tip.x.toFixed(1)}" cy="${tip.y.toFixed(1)}" r="${(size * 0.28).toFixed(1)}"/>`,
  );
  drawing.label(
    'indicator',
    { x: base.x + push.x * size * 0.6, y: base.y + push.y * size * 1.2 },
    size,
    Math.abs(push.x) < 0.5 ? 'middle' : push.x > 0 ? 'start' : 'end',
  );
  if (picture.endAway !== null) {
    const side = picture.endAway === 'right' ? 1 : -1;
    const end = drawing.place(side * (half + size * 1.2), -jaw / 2);
    const anchor = Math.abs(Math.sin(picture.jawRad)) > 0.7 ? 'middle' : side > 0 ? 'start' : 'end';
    drawing.label(`${picture.endAway} end away`, end, size * 1.05, anchor);
  }
  return framed(drawing, size);
}

function framed(drawing: Drawing, size: number): string {
  const xs = drawing.points.map((point) => point.x);
  const ys = drawing.points.map((point) => point.y);
  const [left, right] = [Math.min(...xs) - size, Math.max(...xs) + size];
  const [top, bottom] = [Math.min(...ys) - size, Math.max(...ys) + size * 3.4];
  const middle = (left + right) / 2;
  const floor = bottom - size * 1.2;
  const words = `<text class="quiet" x="${middle.toFixed(1)}" y="${floor.toFixed(1)}" font-size="${(size * 0.9).toFixed(1)}" text-anchor="middle">you stand here</text>`;
  const axis = `<path class="axis" d="M${left.toFixed(1)} ${(floor - size * 1.6).toFixed(1)}H${right.toFixed(1)}"/><text class="quiet" x="${(right - size).toFixed(1)}" y="${(floor - size * 0.4).toFixed(1)}" font-size="${(size * 0.9).toFixed(1)}" text-anchor="end">X</text>`;
  return `<svg viewBox="${left.toFixed(1)} ${top.toFixed(1)} ${(right - left).toFixed(1)} ${(bottom - top).toFixed(1)}" role="img" aria-label="The set-up seen from above">${axis}${drawing.shapes.join('')}${words}</svg>`;
}
