import type { SweepRow } from '@taptrue/protocol';
import { html } from 'lit';
import { pathThrough, scaleFor } from './view/line-picture.ts';

const BOX = { widthPx: 120, heightPx: 36, padPx: 3 };

/** The line of a sweep, small: level where it lies true, away at the top. */
export function smallLine({ picture }: Pick<SweepRow, 'picture'>) {
  if (picture.length < 2) return html`<span class="small-line"></span>`;
  const scale = scaleFor(picture, BOX);
  return html`<svg class="small-line" viewBox="0 0 ${BOX.widthPx} ${BOX.heightPx}" aria-hidden="true">
    <line class="small-axis" x1="0" x2=${BOX.widthPx} y1=${BOX.heightPx / 2} y2=${BOX.heightPx / 2}></line>
    <path class="small-path" d=${pathThrough(picture, scale)}></path>
  </svg>`;
}
