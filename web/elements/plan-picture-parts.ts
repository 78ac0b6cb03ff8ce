import { nothing, type SVGTemplateResult, svg } from 'lit';
import type { PlanLayout } from '../view/plan-layout.ts';

const OUTLINE_CLASSES = {
  bed: 'vise-bed',
  rail: 'vise-rail',
  jaw: 'jaw',
  'jaw-plate': 'jaw-plate',
  screw: 'screw',
  stack: 'plan-stack-blocks',
  bar: 'bar',
  joint: 'plan-joint',
} as const;

/** Vise, bar, rolls, stack and bolts as they lie when the angle is set. */
export function drawSetVise(layout: PlanLayout): SVGTemplateResult {
  const r = layout.boltRadius;
  return svg`
    <circle class="swivel" cx=${layout.swivel.at.x} cy=${layout.swivel.at.y} r=${layout.swivel.radius}></circle>
    ${layout.outlines.map(({ kind, path }) => svg`<path class=${OUTLINE_CLASSES[kind]} d=${path}></path>`)}
    ${layout.rolls.map(({ at, radius }) => svg`<circle class="plan-roll" cx=${at.x} cy=${at.y} r=${radius}></circle>`)}
    ${layout.bolts.map(
      ({ x, y }) => svg`<circle class="washer" cx=${x} cy=${y} r=${r}></circle>
        <path class="bolt" d="M${x - r * 0.68} ${y}l${r * 0.34} ${-r * 0.59}h${r * 0.68}l${r * 0.34} ${r * 0.59}l${-r * 0.34} ${r * 0.59}h${-r * 0.68}z"></path>`,
    )}
  `;
}

/** Straight and set, and the arrow from one to the other about the pivot. */
export function drawTurn(layout: PlanLayout) {
  if (layout.turn === null) return nothing;
  return svg`<path class="plan-ray" d=${layout.turn.from}></path>
    <path class="plan-ray" d=${layout.turn.head}></path>
    <path class="arrow" d=${layout.turn.shaft}></path>`;
}

/** The pin the vise turns about. */
export function drawPivotPin({ pivot: { x, y } }: PlanLayout): SVGTemplateResult {
  return svg`<g class="pivot"><circle cx=${x} cy=${y} r="11"></circle>
    <path d="M${x - 11} ${y}h22M${x} ${y - 11}v22"></path></g>`;
}

export function drawMalletAt({ mallet: { at, deg } }: PlanLayout): SVGTemplateResult {
  return svg`<g transform="translate(${at.x.toFixed(1)} ${at.y.toFixed(1)}) rotate(${deg.toFixed(2)})">
    <path class="mallet-face" d="M-15 0h30v7h-30z"></path>
    <path class="mallet-head" d="M-17 7h34v20h-34z"></path>
  </g>`;
}

/** The stylus square on the face it sweeps, at its middle. */
export function drawStylus({ stylus: { tip, outDeg } }: PlanLayout): SVGTemplateResult {
  return svg`<g transform="translate(${tip.x.toFixed(1)} ${tip.y.toFixed(1)}) rotate(${outDeg.toFixed(2)})">
    <path class="stylus-stem" d="M6 0H34"></path>
    <path class="stylus-body" d="M34 -12h18v24h-18z"></path>
    <circle class="stylus-ball" cx="6" r="6"></circle>
  </g>`;
}
