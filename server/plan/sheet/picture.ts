import { type PlanAnswer, type PlanQuestion, plannedScene } from '@taptrue/protocol';
import {
  drawSetUp,
  partWordsOf,
  setUpLayout,
  sideWordsOf,
  svgText,
} from '@taptrue/protocol/picture';

/**
 * Drawn for 186 mm by 74 mm at 96 px to the inch. The sheet gives it what its words leave over, up to that and
 * down to two thirds of it.
 */
const SIZE = { widthPx: 703, heightPx: 280, wordPx: 34 };

/** The picture of the plan as the page shows it, with its parts named, as SVG text for paper. */
export function sheetPicture(question: PlanQuestion, answer: PlanAnswer): string {
  const scene = plannedScene(question, answer);
  const layout = setUpLayout(scene, SIZE, { wordPx: SIZE.wordPx, sidePx: 110 });
  const marks = [
    ...drawSetUp(scene, layout),
    ...sideWordsOf(SIZE),
    ...partWordsOf(scene, layout, SIZE, true),
  ];
  return `<svg viewBox="0 0 ${SIZE.widthPx} ${SIZE.heightPx}" role="img" aria-label="The set-up seen from above">${svgText(marks)}</svg>`;
}
