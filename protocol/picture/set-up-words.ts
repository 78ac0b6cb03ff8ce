import { MALLET_PX, STYLUS_PX } from './glyphs.ts';
import { type Anchor, add, type Mark, type Spot } from './marks.ts';
import type { End, Margins, PictureSize, SetUpLayout, SetUpScene } from './set-up.ts';
import { inShop } from './vise-parts.ts';

/** About as wide as a letter of the picture's words is, px. */
const LETTER_PX = 9;
const BESIDE_PX = 7;

interface Word {
  text: string;
  at: Spot;
  anchor: Anchor;
}

/** What the sides of the drawing are: the operator stands at the bottom. */
export function sideWordsOf({ widthPx, heightPx }: PictureSize): Mark[] {
  const word = (text: string, x: number, y: number, anchor: Anchor): Mark => ({
    kind: 'word',
    part: 'side-word',
    text,
    at: { x, y },
    anchor,
  });
  return [
    word('rear of the machine', widthPx / 2, 18, 'middle'),
    word('you', widthPx / 2, heightPx - 7, 'middle'),
    word('left', 4, heightPx - 7, 'start'),
    word('right', widthPx - 4, heightPx - 7, 'end'),
  ];
}

/** The words at the parts. `named`: pivot, mallet and indicator by name too, for paper. */
export function partWordsOf(
  scene: SetUpScene,
  layout: SetUpLayout,
  size: PictureSize & Pick<Margins, 'wordPx'>,
  named: boolean,
): Mark[] {
  const words = [
    ...endWord(scene, layout),
    ...stackWord(scene, layout),
    ...axisWord(layout, size),
    ...(named ? partNames(scene, layout) : []),
  ];
  return words.map((word) => kept(word, size));
}

/** Inside the drawing and off its side words, wherever the part stands. */
function kept(
  { text, at, anchor }: Word,
  { widthPx, heightPx, wordPx }: PictureSize & Pick<Margins, 'wordPx'>,
): Mark {
  const wide = text.length * LETTER_PX;
  const [before, behind] =
    anchor === 'start' ? [4, wide] : anchor === 'end' ? [wide, 4] : [wide / 2, wide / 2];
  return {
    kind: 'word',
    part: 'picture-word',
    text,
    anchor,
    at: {
      x: Math.min(widthPx - behind, Math.max(before, at.x)),
      y: Math.min(heightPx - wordPx + 6, Math.max(wordPx + 2, at.y)),
    },
  };
}

/** Above whichever corner of that end lies farthest away. */
function aboveEnd({ vise }: SetUpScene, { parts, px }: SetUpLayout, end: End): Spot {
  const x = (end === 'left' ? -1 : 1) * (vise.jawWidthMm / 2);
  const corners = [parts.backMm, parts.frontMm].map((y) => inShop(vise, { x, y }));
  const far = corners.reduce((most, corner) => (corner.y > most.y ? corner : most));
  return add(px(far), { x: 0, y: -BESIDE_PX });
}

function endWord(scene: SetUpScene, layout: SetUpLayout): Word[] {
  const { endAway } = scene;
  if (endAway === null) return [];
  return [
    {
      text: `${endAway} end away`,
      at: aboveEnd(scene, layout, endAway),
      anchor: endAway === 'left' ? 'start' : 'end',
    },
  ];
}

function stackWord({ vise }: SetUpScene, { parts, place }: SetUpLayout): Word[] {
  const stack = parts.bar.stacks[0];
  if (stack === undefined) return [];
  const inward = -Math.sign(stack.alongMm || 1);
  const beside = place({
    x: stack.alongMm + inward * stack.halfMm,
    y: stack.heightMm / 2,
  });
  const isRight = Math.cos(vise.jawRad) * inward > 0;
  return [
    {
      text: 'stack',
      at: add(beside, { x: isRight ? BESIDE_PX : -BESIDE_PX, y: 5 }),
      anchor: isRight ? 'start' : 'end',
    },
  ];
}

function axisWord({ axis }: SetUpLayout, { widthPx }: PictureSize): Word[] {
  // Along Y at the near end: the arrow of the turn comes to rest at the far one.
  const at =
    axis.name === 'X'
      ? { x: Math.min(widthPx - 18, axis.to.x + 6), y: axis.to.y - 7 }
      : { x: axis.from.x + 8, y: axis.from.y - 6 };
  return [{ text: axis.name, at, anchor: 'start' }];
}

function partNames(scene: SetUpScene, layout: SetUpLayout): Word[] {
  const names: Word[] = [];
  const pivotAt = aboveEnd(scene, layout, scene.pivotEnd);
  if (layout.turn !== null) {
    const isLeft = scene.pivotEnd === 'left';
    names.push(
      scene.pivotEnd === scene.endAway
        ? {
            text: 'pivot clamp',
            at: add(layout.pivot, { x: isLeft ? -44 : 44, y: 5 }),
            anchor: isLeft ? 'end' : 'start',
          }
        : { text: 'pivot clamp', at: pivotAt, anchor: isLeft ? 'end' : 'start' },
      {
        text: 'mallet end',
        at: add(layout.mallet, behindMallet(layout.malletDeg)),
        anchor: 'middle',
      },
    );
  }
  if (scene.isTouched) {
    const isSideways = Math.abs(layout.out.x) > 0.7;
    const end = { x: layout.out.x * STYLUS_PX, y: layout.out.y * STYLUS_PX };
    names.push({
      text: 'indicator',
      at: add(layout.touch, isSideways ? { x: end.x / 2, y: -18 } : { x: 18, y: end.y }),
      anchor: isSideways ? 'middle' : 'start',
    });
  }
  return names;
}

/** Past the end of the mallet's head, the way it is swung back. */
function behindMallet(deg: number): Spot {
  const rad = (deg * Math.PI) / 180;
  const reach = MALLET_PX + 12;
  return { x: -Math.sin(rad) * reach, y: Math.cos(rad) * reach + 5 };
}
