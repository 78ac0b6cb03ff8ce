import { formatLength, type LengthUnit } from '@taptrue/protocol';
import { safe } from './html.ts';
import type { StageFacts } from './sheet-facts.ts';

const WIDTH = 220;
const HEIGHT = 84;
const SIDE = 8;
const TOP = 14;
const BOTTOM = 14;
/** Points and limit fill this part of the height, so that nothing touches the frame. */
const FILL = 0.84;

/**
 * The points of one sweep and their line, as SVG: across is the swept length, up is away from the operator. The
 * dash-dotted line is the one wanted; the dotted lines leave it by the limit.
 */
export function stagePlot(
  { ended, result, surfacePerReading }: StageFacts,
  targetSlope: number,
  unit: LengthUnit,
): string {
  const middleMm = (result.fromMm + result.toMm) / 2;
  const atMiddle = result.interceptMm + result.slope * middleMm;
  const wanted = (xMm: number) => atMiddle + targetSlope * (xMm - middleMm);
  const points = ended.points.map(({ xMm, readingMm, pass }) => ({
    xMm,
    offMm: surfacePerReading * readingMm - wanted(xMm),
    pass,
  }));
  const limit =
    result.limitArcsec === null ? null : Math.tan((result.limitArcsec / 3600 / 180) * Math.PI);
  const half = result.lengthMm / 2;
  const tilt = result.slope - targetSlope;
  const mostMm = Math.max(
    1e-6,
    Math.abs(tilt) * half,
    (limit ?? 0) * half,
    ...points.map(({ offMm }) => Math.abs(offMm)),
  );
  const x = (xMm: number) =>
    SIDE + ((xMm - result.fromMm) / (result.lengthMm || 1)) * (WIDTH - 2 * SIDE);
  const y = (offMm: number) => TOP + (HEIGHT - TOP - BOTTOM) * (0.5 - (offMm / mostMm / 2) * FILL);
  const line = (part: string, slope: number) =>
    `<path class="${part}" d="M${at(x(result.fromMm), y(-slope * half))}L${at(x(result.toMm), y(slope * half))}"/>`;
  const marks = points.map(({ xMm, offMm, pass }) =>
    pass === 'out'
      ? `<circle class="out" cx="${px(x(xMm))}" cy="${px(y(offMm))}" r="2.2"/>`
      : `<path class="back" d="M${at(x(xMm), y(offMm) - 3)}l3 3l-3 3l-3 -3z"/>`,
  );
  const span = formatLength(mostMm / FILL, unit, { decimals: unit === 'in' ? 5 : 4 });
  return `<svg class="plot" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="Points of sweep ${ended.sweep}">
<rect class="frame" x="${SIDE}" y="${TOP}" width="${WIDTH - 2 * SIDE}" height="${HEIGHT - TOP - BOTTOM}"/>
${line('wanted', 0)}${limit === null ? '' : line('limit', limit) + line('limit', -limit)}${line('fitted', tilt)}${marks.join('')}
<text x="${WIDTH / 2}" y="10" text-anchor="middle">up is away, the frame is ±${safe(span)}</text>
<text x="${SIDE}" y="${HEIGHT - 3}">${safe(formatLength(result.fromMm, unit))}</text>
<text x="${WIDTH - SIDE}" y="${HEIGHT - 3}" text-anchor="end">${safe(formatLength(result.toMm, unit))}</text></svg>`;
}

const px = (value: number) => String(Number(value.toFixed(1)));
const at = (x: number, y: number) => `${px(x)} ${px(y)}`;
