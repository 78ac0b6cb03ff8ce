import { sweptScene } from '@taptrue/protocol';
import {
  drawStylusAt,
  drawSwept,
  sideWordsOf,
  svgText,
  sweptLayout,
} from '@taptrue/protocol/picture';
import type { SheetFacts } from './sheet-facts.ts';

/** The width and height the page has for it, 186 mm by 30 mm at 96 px to the inch. */
const SIZE = { widthPx: 703, heightPx: 113 };

/** Vise, bar and points as they lie at the end, as the page shows them, for paper. */
export function sheetPicture({ state, plan, final }: SheetFacts): string {
  const used = plan
    ? { ...state.plan, question: plan.question, answer: plan.answer, inUse: true }
    : state.plan;
  const scene = sweptScene({ ...state, plan: used, tap: null });
  const layout = sweptLayout({ ...scene, mallet: null }, SIZE);
  const marks = [
    ...drawSwept(scene, layout, SIZE),
    drawStylusAt(layout, final.result.toMm),
    ...sideWordsOf(SIZE),
  ];
  return `<svg class="picture" viewBox="0 0 ${SIZE.widthPx} ${SIZE.heightPx}" role="img" aria-label="The vise seen from above">${svgText(marks)}</svg>`;
}
