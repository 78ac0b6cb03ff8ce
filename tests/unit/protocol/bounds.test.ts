import {
  Command,
  checkerOf,
  firstQuestion,
  firstSetup,
  PlanQuestion,
  Setup,
} from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';

const commands = checkerOf(Command);
const change = (part: object) => ({ kind: 'change setup', change: part });
const nothing = {
  resolutionMm: null,
  permissibleErrorMm: null,
  repeatabilityMm: null,
  rangeMm: null,
};
const { vise, pivot } = firstSetup();

/** Each number that a setup or a command carries, with a value for it. */
const PLACES: Readonly<Record<string, (value: number) => object>> = {
  factor: (factor) => change({ stylus: { kind: 'nudge factor', factor } }),
  limit: (mm) => change({ limit: { kind: 'end to end', mm, overMm: null } }),
  'length of the limit': (overMm) => change({ limit: { kind: 'end to end', mm: 0.02, overMm } }),
  angle: (rad) => change({ limit: { kind: 'angle', rad } }),
  graduation: (graduationMm) => change({ keyedAs: { kind: 'divisions', graduationMm } }),
  'swept length': (sweptLengthMm) => change({ sweptLengthMm }),
  resolution: (resolutionMm) => change({ indicator: { ...nothing, resolutionMm } }),
  distance: (distanceMm) => change({ feed: { startsAt: 'left', distanceMm, mmPerMin: null } }),
  feed: (mmPerMin) => change({ feed: { startsAt: 'left', distanceMm: 100, mmPerMin } }),
  'uncertainty of the pivot': (uncertaintyMm) => change({ pivot: { ...pivot, uncertaintyMm } }),
};
/** These may be nothing or less than nothing, but not without end. */
const PLACES_EITHER_WAY: typeof PLACES = {
  station: (xMm) => change({ stationsMm: [0, xMm] }),
  count: (leftEndCountMm) => change({ leftEndCountMm }),
  mallet: (malletMm) => change({ malletMm }),
  vise: (rightEndMm) => change({ vise: { ...vise, rightEndMm } }),
  pivot: (typedMm) => change({ pivot: { ...pivot, typedMm } }),
  error: (permissibleErrorMm) => change({ indicator: { ...nothing, permissibleErrorMm } }),
  park: (xMm) => ({ kind: 'park', xMm }),
  nudge: (movedMm) => ({ kind: 'finish nudge', nudge: 'y', movedMm }),
};

describe('a number that nothing on a machine can be', () => {
  for (const [name, asIn] of Object.entries({ ...PLACES, ...PLACES_EITHER_WAY })) {
    test(`is refused as ${name}, and an ordinary one is taken`, () => {
      expect(commands.check(asIn(1e300)).ok).toBe(false);
      expect(commands.check(asIn(1e9)).ok).toBe(false);
      if (name in PLACES) {
        expect(commands.check(asIn(1e-320)).ok).toBe(false);
        expect(commands.check(asIn(5e-324)).ok).toBe(false);
      }
      expect(commands.check(asIn(0.5)).ok).toBe(true);
    });
  }

  test('what a bench and a plan begin with fits', () => {
    expect(checkerOf(Setup).check(firstSetup())).toMatchObject({ ok: true });
    expect(checkerOf(PlanQuestion).check(firstQuestion())).toMatchObject({ ok: true });
  });
});
