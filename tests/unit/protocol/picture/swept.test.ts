import { type BenchState, sweptScene } from '@taptrue/protocol';
import { sweptLayout } from '@taptrue/protocol/picture';
import { describe, expect, it } from 'vitest';
import { exampleResult, exampleSweep } from '../../../browser/example-parts.ts';
import {
  nothingSet,
  resultNotTrue,
  tapLive,
  trueAtTight,
} from '../../../browser/example-states.ts';

const SIZE = { widthPx: 800, heightPx: 280 };
const pictureLayout = (state: BenchState) => sweptLayout(sweptScene(state), SIZE);

function withSlope(slope: number): BenchState {
  const state = resultNotTrue();
  const end = 'right' as const;
  const direction = slope > 0 ? ('toward' as const) : ('away' as const);
  return {
    ...state,
    sweep: exampleSweep({
      points: [],
      result: exampleResult({ slope, tap: { end, direction, amountMm: 0.1, turn: 'clockwise' } }),
    }),
  };
}

describe('the picture of the vise while it is swept', () => {
  it('is to scale along the swept axis', () => {
    const layout = pictureLayout(nothingSet());
    expect(layout.xPx(127) - layout.xPx(0)).toBeCloseTo(127 * layout.perMm, 9);
    expect(layout.xPx(-20)).toBeGreaterThanOrEqual(0);
    expect(layout.xPx(147)).toBeLessThanOrEqual(SIZE.widthPx);
  });

  it('draws nothing crooked and no mallet before anything is measured', () => {
    const layout = pictureLayout(nothingSet());
    expect(layout).toMatchObject({ tiltDeg: -0, exaggeration: null, mallet: null, lowerEnd: null });
  });

  it('draws a right end that lies farther away higher up, and names the left end as nearer', () => {
    const layout = pictureLayout(withSlope(0.00068));
    expect(layout.edgeYPx(127)).toBeLessThan(layout.edgeYPx(0));
    expect(layout.tiltDeg, 'counter-clockwise seen from above').toBeLessThan(0);
    expect(layout.lowerEnd).toBe('low');
    expect(layout.mallet?.strikes, 'toward the operator, from the column side').toBe('down');
  });

  it('mirrors when the slope is mirrored', () => {
    const [right, left] = [pictureLayout(withSlope(0.00068)), pictureLayout(withSlope(-0.00068))];
    expect(left.tiltDeg).toBeCloseTo(-right.tiltDeg, 9);
    expect(left.exaggeration).toBe(right.exaggeration);
    expect(left.mallet?.strikes).toBe('up');
    expect(left.lowerEnd).toBe('high');
  });

  it.each([1e-5, 1e-4, 1e-3, 1e-2, 0.1])(
    'never leans out of the drawing at a slope of %d',
    (slope) => {
      const layout = pictureLayout(withSlope(slope));
      expect(layout.edgeYPx(-20) - layout.edgeYPx(147)).toBeLessThanOrEqual(
        SIZE.heightPx * 0.2 + 1e-6,
      );
    },
  );

  it('turns about the pivot, whose doubt is drawn to scale', () => {
    const state = resultNotTrue();
    const layout = pictureLayout(state);
    expect(layout.edgeYPx(state.pivot.xMm)).toBeCloseTo(layout.wantedYPx, 9);
    expect(layout.pivot.halfWidthPx).toBeCloseTo(state.pivot.uncertaintyMm * layout.perMm, 9);
  });

  it('follows what remains while the mallet works', () => {
    const before = pictureLayout(resultNotTrue());
    const during = pictureLayout(tapLive());
    const lean = (layout: typeof before) =>
      Math.tan((-layout.tiltDeg * Math.PI) / 180) / (layout.exaggeration ?? 1);
    expect(lean(before)).toBeCloseTo(0.00068, 6);
    expect(lean(during)).toBeCloseTo((47.1 * Math.PI) / 648_000, 6);
  });

  it('shows no mallet where the bar is true', () => {
    expect(pictureLayout(trueAtTight()).mallet).toBeNull();
  });
});
