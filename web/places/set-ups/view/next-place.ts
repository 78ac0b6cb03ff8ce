import { fromMm, placeOfPoint, type SetUpPoint, type Setup } from '@taptrue/protocol';

/** Eight even places tell three lobes from being off centre. */
const STEP_DEG = 45;

/** The place that is offered for the next reading: the next eighth of a turn, or the next station. Pure. */
export function nextPlace(
  fit: 'line' | 'circle',
  points: readonly SetUpPoint[],
  { stationsMm, displayUnit }: Pick<Setup, 'stationsMm' | 'displayUnit'>,
): string {
  if (fit === 'circle') {
    const last = points.at(-1);
    return String(last === undefined ? 0 : (placeOfPoint(last) + STEP_DEG) % 360);
  }
  const turned = points.at(-1)?.turned ?? false;
  const taken = points.filter((point) => point.turned === turned).length;
  const nextMm = stationsMm[taken % stationsMm.length] ?? 0;
  return String(Number(fromMm(nextMm, displayUnit).toFixed(4)));
}
