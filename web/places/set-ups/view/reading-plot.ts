import { placeOfPoint, type SetUpJudged, type SetUpPoint } from '@taptrue/protocol';

export interface Plot {
  dots: { x: number; y: number; turned: boolean }[];
  /** Points of the fitted curve, as an SVG polyline. */
  curve: string;
  /** What one whole height of the plot stands for, mm of reading. */
  highMm: number;
}

export const PLOT_WIDTH = 360;
export const PLOT_HEIGHT = 120;
const EDGE = 12;
const CURVE_STEPS = 72;

/** Readings and their fit on a strip: along the work, or round it from 0 to 360 degrees. Pure. */
export function readingPlot(
  fit: 'line' | 'circle',
  points: readonly SetUpPoint[],
  judged: SetUpJudged | null,
): Plot | null {
  if (points.length === 0) return null;
  const places = points
    .map(placeOfPoint)
    .map((at) => (fit === 'circle' ? ((at % 360) + 360) % 360 : at));
  const [low, high] = fit === 'circle' ? [0, 360] : [Math.min(...places), Math.max(...places)];
  const curve = judged?.curve ?? null;
  const along = Array.from({ length: CURVE_STEPS + 1 }, (_, step) => {
    const at = low + ((high - low) * step) / CURVE_STEPS;
    const rad = (at * Math.PI) / 180;
    const mm = curve
      ? curve.meanMm + curve.perMm * at + curve.cosMm * Math.cos(rad) + curve.sinMm * Math.sin(rad)
      : null;
    return { at, mm };
  });
  const fitted = along.flatMap(({ at, mm }) => (mm === null ? [] : [{ at, mm }]));
  const readings = [...points.map(({ readingMm }) => readingMm), ...fitted.map(({ mm }) => mm)];
  const bottom = Math.min(...readings);
  const highMm = Math.max(...readings) - bottom;
  const x = (at: number) =>
    high === low ? PLOT_WIDTH / 2 : EDGE + ((at - low) / (high - low)) * (PLOT_WIDTH - 2 * EDGE);
  const y = (mm: number) =>
    highMm === 0
      ? PLOT_HEIGHT / 2
      : PLOT_HEIGHT - EDGE - ((mm - bottom) / highMm) * (PLOT_HEIGHT - 2 * EDGE);
  return {
    dots: points.map(({ readingMm, turned }, index) => ({
      x: x(places[index]!),
      y: y(readingMm),
      turned,
    })),
    curve: fitted.map(({ at, mm }) => `${x(at).toFixed(1)},${y(mm).toFixed(1)}`).join(' '),
    highMm,
  };
}
