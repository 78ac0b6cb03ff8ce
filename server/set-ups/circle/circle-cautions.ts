import { type Caution, formatLength } from '@taptrue/protocol';
import { type CircleInput, LEAST_PLACES_FOR_VERDICT, WIDEST_GAP_DEG } from './circle-input.ts';
import type { CircleFit } from './fit-circle.ts';
import type { Lobes } from './lobes.ts';
import type { NeedleDoubt } from './needle-doubts.ts';
import { areEven, turnedBack, wayDeg, widestGapDeg } from './places.ts';

/** Scatter below this is none: the readings lie exactly on a wave, mm. */
const NO_SCATTER_MM = 1e-6;

/** A share of the limit, or of what was found, that is worth a word. */
const WORTH_SAYING = 0.1;

interface Found {
  doubt: NeedleDoubt | null;
  lobes: Lobes | null;
  totalMm: number;
  knowsUncertainty: boolean;
}

/** What a user should mind, in plain words, the gravest first. */
export function circleCautions(input: CircleInput, fit: CircleFit, found: Found): Caution[] {
  return [
    ...(found.doubt === null ? [] : [DOUBTS[found.doubt]]),
    ...senseCautions(input),
    ...placeCautions(fit, found),
    ...lobeCautions(input, found),
    ...turnCautions(input, found),
    ...scatterCautions(input, fit),
  ];
}

const DOUBTS: Readonly<Record<NeedleDoubt, Caution>> = {
  'needle-not-seen-moving': {
    code: 'needle-not-seen-moving',
    text: 'All readings are one and the same: the needle was not seen to move. Press the stylus and see that it does, then read round again.',
  },
  'indicator-at-its-stop': {
    code: 'indicator-at-its-stop',
    text: 'Readings in a row are one and the same while the others say that the needle should have gone on: the indicator is probably at its stop, or the stylus off the work. Set the preload anew and read round again.',
  },
};

function senseCautions(input: CircleInput): Caution[] {
  const cautions: Caution[] = [];
  const { circle } = input.setUp;
  if (circle.reads === 'wall round the axis' && input.face === null) {
    const text =
      circle.usualFace === null
        ? 'It was not said whether a bore or a boss was touched, and they move opposite ways, so nothing is told to move. Say --face bore or --face boss.'
        : `It was taken that the ${circle.usualFace === 'boss' ? 'outside' : 'bore'} of the work was touched. In ${circle.usualFace === 'boss' ? 'a bore' : 'the outside'} everything moves the other way: say --face.`;
    cautions.push({ code: 'face-not-said', text });
  }
  if (input.rises === null) {
    cautions.push({
      code: 'rise-not-said',
      text: 'It was taken that the reading rises as the stylus is pressed. Press it and see; if it falls, say --rises away, or everything moves the wrong way.',
    });
  }
  if (circle.hasJaws && input.jawOneDeg === null) {
    cautions.push({
      code: 'jaw-one-not-said',
      text: 'Jaw one was taken to stand at 0 degrees, the others following counter-clockwise seen from the tailstock. If it stands elsewhere, say --jaw-one.',
    });
  }
  if (circle.hasJaws && input.turns === null) {
    cautions.push({
      code: 'turning-not-said',
      text: 'The angles were taken as places on the work, as the jaws are. If they are how far the chuck was turned, say --turns work.',
    });
  }
  return cautions;
}

function placeCautions(fit: CircleFit, found: Found): Caution[] {
  const cautions: Caution[] = [];
  const places = fit.placesDeg.length;
  if (places < LEAST_PLACES_FOR_VERDICT) {
    cautions.push({
      code: 'few-places-round',
      text: `${places} places round give a figure but no verdict: that needs at least ${LEAST_PLACES_FOR_VERDICT}.`,
    });
  }
  if (places < LEAST_PLACES_FOR_VERDICT && areEven(fit.placesDeg)) {
    cautions.push({
      code: 'lobes-read-as-off-centre',
      text: `${places} even places read ${places - 1} lobes as being off: what is told to move may be the shape of the thing. Read at seven places or more.`,
    });
  }
  const gapDeg = widestGapDeg(fit.placesDeg);
  if (places >= LEAST_PLACES_FOR_VERDICT && gapDeg > WIDEST_GAP_DEG + 1e-9) {
    cautions.push({
      code: 'wide-gap-round',
      text: `Nothing was read over ${gapDeg.toFixed(0)} degrees of the turn, so there is a figure but no verdict. Read at even steps all the way round.`,
    });
  }
  if (!found.knowsUncertainty) {
    cautions.push({
      code: 'uncertainty-not-known',
      text: 'Three places leave nothing to judge their scatter by, and nothing is known of the indicator. Read at more places, or give the resolution or permissible error.',
    });
  }
  return cautions;
}

function lobeCautions(input: CircleInput, { lobes }: Found): Caution[] {
  if (!lobes) return [];
  const sizeMm = 2 * lobes.amplitudeMm;
  if (input.limitMm !== null && sizeMm < WORTH_SAYING * input.limitMm) return [];
  const cause = input.setUp.circle.lobeWords[lobes.count];
  const because = cause === undefined ? '' : `: ${cause}`;
  const text = `What is left waves ${lobes.count} times a turn, ${formatLength(sizeMm, input.displayUnit)} high${because}. No move takes that out.`;
  return [{ code: 'lobes', text }];
}

function turnCautions(input: CircleInput, found: Found): Caution[] {
  const cautions: Caution[] = [];
  const { points } = input;
  if (turnedBack(points.map(({ angleDeg }) => angleDeg))) {
    cautions.push({
      code: 'turned-back',
      text: 'The places were not read in one direction of turning: backlash and drag of the stylus show as being off. Turn one way only, past the first place and back to it.',
    });
  }
  const first = points[0]!;
  const last = points.at(-1)!;
  const gapMm = Math.abs(last.readingMm - first.readingMm);
  const isClosed = points.length > 3 && Math.abs(wayDeg(first.angleDeg, last.angleDeg)) < 1;
  if (isClosed && gapMm > WORTH_SAYING * (input.limitMm ?? found.totalMm) && gapMm > 1e-6) {
    cautions.push({
      code: 'start-not-repeated',
      text: `Back at the first place the reading differs by ${formatLength(gapMm, input.displayUnit)}: the indicator slipped, or something moved. Read round again.`,
    });
  }
  return cautions;
}

function scatterCautions(input: CircleInput, fit: CircleFit): Caution[] {
  const scatter = fit.residualStandardDeviationMm;
  if (input.resolutionMm !== null || scatter === null || scatter >= NO_SCATTER_MM) return [];
  return [
    {
      code: 'no-scatter',
      text: 'The readings lie exactly on a wave and the resolution of the indicator is not known, so the uncertainty shown is too small. Give the resolution.',
    },
  ];
}
