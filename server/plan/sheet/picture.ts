import { type PlanAnswer, type PlanQuestion, plannedScene } from '@taptrue/protocol';
import {
  drawSetUp,
  partWordsOf,
  setUpLayout,
  sideWordsOf,
  svgText,
} from '@taptrue/protocol/picture';

/** The width and height the sheet has for it, 186 mm by 52 mm at 96 px to the inch. */
const SIZE = { widthPx: 703, heightPx: 197, wordPx: 22 };

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
