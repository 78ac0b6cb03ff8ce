import type { Mark } from '@taptrue/protocol/picture';
import { type SVGTemplateResult, svg } from 'lit';

/** Marks of the one picture as the page shows them; each part is a class. */
export function pictureMarks(marks: readonly Mark[]): SVGTemplateResult[] {
  return marks.map(one);
}

function one(mark: Mark): SVGTemplateResult {
  switch (mark.kind) {
    case 'path':
      return svg`<path class=${mark.part} d=${mark.d}></path>`;
    case 'circle':
      return svg`<circle class=${mark.part} cx=${mark.at.x.toFixed(1)} cy=${mark.at.y.toFixed(1)} r=${mark.r.toFixed(1)}></circle>`;
    case 'word':
      return svg`<text class=${mark.part} x=${mark.at.x.toFixed(1)} y=${mark.at.y.toFixed(1)} text-anchor=${mark.anchor}>${mark.text}</text>`;
    case 'group':
      return svg`<g class=${mark.part} transform=${mark.transform}>${pictureMarks(mark.marks)}</g>`;
  }
}
