import { nothing, type SVGTemplateResult, svg } from 'lit';
import type { PictureLayout, PictureState } from '../view/picture-layout.ts';

/** Vise and bar as they lie when turned; drawn level, the caller turns them about the pivot. */
export function drawVise(layout: PictureLayout, bench: PictureState): SVGTemplateResult {
  const { vise } = bench.setup;
  const left = layout.xPx(vise.leftEndMm);
  const right = layout.xPx(vise.rightEndMm);
  const width = right - left;
  const edge = layout.wantedYPx;
  const top = layout.bodyTopPx;
  const depth = layout.bodyBottomPx - top;
  const jawBottom = edge - 16;
  const frontTop = layout.bodyBottomPx - 24;
  const centreY = (edge + frontTop) / 2;
  const centre = layout.xPx(vise.swivelCentreMm);
  return svg`
    <ellipse class="swivel" cx=${centre} cy=${edge} rx=${Math.min(width * 0.3, depth * 0.86)} ry=${depth * 0.66}></ellipse>
    <rect class="vise-bed" x=${left} y=${top} width=${width} height=${depth}></rect>
    ${[0.22, 0.62].map(
      (part) =>
        svg`<rect class="vise-rail" x=${left + width * part} y=${edge} width=${width * 0.16} height=${frontTop - edge}></rect>`,
    )}
    <rect class="jaw" x=${left + 8} y=${frontTop} width=${Math.max(1, width - 16)} height="24"></rect>
    <rect class="screw" x=${centre - 15} y=${layout.bodyBottomPx} width="30" height="12"></rect>
    <path class="swivel-centre" d="M${centre - 9} ${centreY}h18M${centre} ${centreY - 9}v18"></path>
    <rect class="jaw" x=${left + 8} y=${top + 8} width=${Math.max(1, width - 16)} height=${jawBottom - top - 8}></rect>
    <rect class="jaw-plate" x=${left + 8} y=${jawBottom - 9} width=${Math.max(1, width - 16)} height="9"></rect>
    <rect class="bar" x=${layout.barFromPx} y=${jawBottom} width=${layout.barToPx - layout.barFromPx} height="16"></rect>
    ${bench.setup.way === 'stations' ? bench.setup.stationsMm.map((xMm) => svg`<path class="station" d="M${layout.xPx(xMm).toFixed(1)} ${jawBottom + 5}v11"></path>`) : nothing}
    ${[vise.leftClampMm, vise.rightClampMm].map((xMm) => drawBolt(layout.xPx(xMm), top + (jawBottom - top) * 0.42))}
  `;
}

function drawBolt(x: number, y: number): SVGTemplateResult {
  return svg`<circle class="washer" cx=${x} cy=${y} r="16"></circle>
    <path class="bolt" d="M${x - 11} ${y}l5.5 -9.5h11l5.5 9.5l-5.5 9.5h-11z"></path>`;
}

/** More points than this are a stream's: drawn small, so that a bump is not buried under its neighbours. */
const MOST_LARGE_POINTS = 50;

/** Out: filled dots. Back: open diamonds. */
export function drawPoints(layout: PictureLayout): SVGTemplateResult[] {
  const isStream = layout.points.length > MOST_LARGE_POINTS;
  const half = isStream ? 4 : 8;
  return layout.points.map(({ xPx, yPx, pass }) =>
    pass === 'out'
      ? svg`<circle class=${isStream ? 'point-stream' : 'point-out'} cx=${xPx.toFixed(1)} cy=${yPx.toFixed(1)} r=${isStream ? 2.5 : 6}></circle>`
      : svg`<path class=${isStream ? 'point-stream-back' : 'point-back'} d="M${xPx.toFixed(1)} ${(yPx - half).toFixed(1)}l${half} ${half}l${-half} ${half}l${-half} ${-half}z"></path>`,
  );
}

/** The pin the vise turns about, with a bar as wide as what is not known of its place. */
export function drawPivot(layout: PictureLayout, inUse: 'declared' | 'learned'): SVGTemplateResult {
  const { xPx, halfWidthPx } = layout.pivot;
  const y = layout.wantedYPx;
  return svg`<g class="pivot pivot-${inUse}">
    <path class="pivot-doubt" d="M${xPx - halfWidthPx} ${y - 7}v14M${xPx - halfWidthPx} ${y}h${2 * halfWidthPx}M${xPx + halfWidthPx} ${y - 7}v14"></path>
    <circle cx=${xPx} cy=${y} r="11"></circle>
    <path class="pivot-cross" d="M${xPx - 11} ${y}h22M${xPx} ${y - 11}v22"></path>
  </g>`;
}

/** Mallet and the one arrow. It stands on the side it strikes from. */
export function drawMallet(layout: PictureLayout, heightPx: number) {
  if (layout.mallet === null) return nothing;
  const { xPx, strikes } = layout.mallet;
  const face = strikes === 'up' ? layout.bodyBottomPx + 5 : layout.bodyTopPx - 5;
  const flip = strikes === 'up' ? 1 : -1;
  const room = strikes === 'up' ? heightPx - face : face;
  const head = Math.min(34, room - 6);
  return svg`<g class="mallet" transform="translate(${xPx.toFixed(1)} ${face}) scale(1 ${flip})">
      <path class="mallet-face" d="M-17 0h34v8h-34z"></path>
      <path class="mallet-head" d="M-19 8h38v${head - 8}h-38z"></path>
    </g>
    <path class="arrow" transform="translate(${xPx.toFixed(1)} ${face - 8 * flip}) scale(1 ${flip})"
      d="M-9 0v-34h-13l22 -30l22 30h-13v34z"></path>`;
}
