import {
  type BenchSection,
  type Caution,
  formatLength,
  type Setup,
  type Stage,
  type SweepResult,
  slopeToTapTo,
} from '@taptrue/protocol';
import { aimedOffRad, aimedOffWords, liesWhereAimed } from '../measure/verdict/aim-off.ts';
import { tapSentence } from '../measure/verdict/words.ts';

/** What the standing of a job follows from. */
export interface JobFacts {
  stage: Stage;
  setup: Setup;
  sensesKnown: boolean;
  /** The sweep being taken, with the station to stand at now where it has stations; null: none is. */
  sweeping: {
    nextStation: { index: number; xMm: number } | null;
    /** Constant feed: the first mark is passed, the last is not. */
    feedRunning: boolean;
  } | null;
  parked: boolean;
  /** The last ended sweep; null: none yet. */
  last: {
    stage: Stage;
    result: SweepResult;
    tappedSince: boolean;
    /** Whatever they did, even if they stand at the stage of the sweep again. */
    clampsChangedSince: boolean;
    /** Another set-up since, in words; empty: the same. */
    voidSince: string;
  } | null;
}

type Job = Pick<BenchSection['job'], 'standing' | 'sentence' | 'next'>;

const LOOSE = 'The vise is loose: do not cut.';

function afterLast(facts: JobFacts, last: NonNullable<JobFacts['last']>): Job {
  const isTight = facts.stage === 'tight';
  if (last.voidSince !== '') {
    return {
      standing: isTight ? 'not measured' : 'loose',
      sentence: isTight ? 'Not measured under what is set now.' : LOOSE,
      next: `${last.voidSince} Sweep again.`,
    };
  }
  if (last.tappedSince) {
    return {
      standing: isTight ? 'not measured' : 'loose',
      sentence: isTight ? 'Tapped since the last sweep.' : LOOSE,
      next: 'Sweep again: the needle at one station proves nothing of the other end.',
    };
  }
  if (last.stage !== facts.stage) {
    return {
      standing: isTight ? 'not measured' : 'loose',
      sentence: isTight ? 'Tightened since the last sweep.' : LOOSE,
      next: `Sweep again at ${facts.stage}: tightening may have turned it.`,
    };
  }
  if (last.clampsChangedSince) {
    const changed = 'Clamps changed since the last sweep.';
    return {
      standing: isTight ? 'not measured' : 'loose',
      sentence: isTight ? changed : `${changed} ${LOOSE}`,
      next: `Sweep again at ${facts.stage}: loosening and tightening may have turned it.`,
    };
  }
  const { verdict } = last.result;
  const aimed = isTight ? null : aimStanding(facts, last);
  if (aimed !== null) return aimed;
  if (!isTight) {
    return {
      standing: 'loose',
      sentence:
        verdict === 'true' ? `True at ${facts.stage}, but the vise is loose: do not cut.` : LOOSE,
      next:
        verdict === 'true'
          ? 'Tighten one step, both clamps in turn, and sweep again.'
          : last.result.sentence,
    };
  }
  switch (verdict) {
    case 'true':
      return {
        standing: 'true',
        sentence: 'True, with the clamps tight.',
        next: 'Indicator out, wrench off, clamps tight before any cut.',
      };
    case 'too close to call':
      return {
        standing: 'too close to call',
        sentence: 'Too close to the limit to call.',
        next: `${last.result.sentence} More stations, or a sweep back, make the answer surer.`,
      };
    case 'not true':
      return {
        standing: 'not true',
        sentence: 'Not true, with the clamps tight.',
        next: `Loosen to nipped, then: ${last.result.sentence}`,
      };
    case null:
      return {
        standing: 'not measured',
        sentence: 'No limit is set, so nothing can be judged.',
        next: 'Set how far out of true is allowed, in the setup.',
      };
  }
}

function sweepingNext(
  { way, displayUnit, axis }: Setup,
  { nextStation: station, feedRunning }: NonNullable<JobFacts['sweeping']>,
): string {
  switch (way) {
    case 'stations':
      return station
        ? `Stand at station ${station.index + 1}, ${formatLength(station.xMm, displayUnit)} from the ${axis === 'x' ? 'left' : 'near'} end, and take the reading.`
        : 'All stations are taken. End the sweep.';
    case 'readout':
      return 'Traverse the table by hand from end to end, slowly and one way. Readings are taken by themselves; turn round to sweep back as well.';
    case 'feed':
      return feedRunning
        ? 'Feed running. Press as the stylus passes the last mark.'
        : 'Start the feed before the first mark, and press as the stylus passes it.';
  }
}

/** Where the user aims off at this stage: whether it lies there, whatever the verdict; null: not aimed off. */
function aimStanding(
  { setup, stage }: JobFacts,
  { result }: NonNullable<JobFacts['last']>,
): Job | null {
  const aimedSlope = slopeToTapTo(setup, stage);
  if (aimedSlope === setup.targetSlope) return null;
  const aimed = aimedOffWords(aimedOffRad(setup.targetSlope, aimedSlope));
  const isThere = liesWhereAimed(result, aimedSlope, setup.decisionRule);
  const tap = result.tap && tapSentence(result.tap, result.tapToReadingMm, setup.displayUnit);
  return {
    standing: 'loose',
    sentence: `${aimed} ${LOOSE}`,
    next: isThere
      ? 'It lies where you aim. Tighten one step, both clamps in turn, and sweep again.'
      : `${tap ?? result.sentence} ${aimed}`,
  };
}

/** Where the job stands and what to do now, in one sentence each. Only a sweep at tight can end it as true. */
export function jobStanding(facts: JobFacts): Job {
  if (facts.sweeping) {
    return {
      standing: facts.stage === 'tight' ? 'not measured' : 'loose',
      sentence: facts.stage === 'tight' ? 'Being swept.' : LOOSE,
      next: sweepingNext(facts.setup, facts.sweeping),
    };
  }
  if (facts.last === null) {
    return {
      standing: facts.stage === 'tight' ? 'not measured' : 'loose',
      sentence: facts.stage === 'tight' ? 'Not measured yet.' : LOOSE,
      next: facts.sensesKnown
        ? 'Sweep the bar.'
        : 'Nudge first: ten seconds, and the sign, the unit and the link are settled.',
    };
  }
  return afterLast(facts, facts.last);
}

/** The usual cautions, where they matter. Local rules come first, always. */
export function safetyCautions(facts: JobFacts, standing: Job['standing']): Caution[] {
  const cautions: Caution[] = [];
  if (standing === 'true') {
    cautions.push({
      code: 'clear-before-cut',
      text: 'Indicator, bar and stack out, wrench off the drawbar and the vise, clamps tight before any cut.',
    });
  } else if (facts.parked) {
    cautions.push({
      code: 'hands-clear',
      text: 'Hands clear of the mallet’s way, eyes covered. Soft face, many light blows, on the vise casting: never on bar, blocks or jaw plate. Power feed off.',
    });
  } else {
    cautions.push({
      code: 'spindle-stopped',
      text: 'Spindle stopped and in neutral or braked, cutter out, nobody else at the controls.',
    });
  }
  if (standing !== 'true' && facts.stage !== 'tight') {
    cautions.push({ code: 'loose-do-not-cut', text: LOOSE });
  }
  cautions.push({
    code: 'local-rules-first',
    text: 'Local rules and licensed practice come first. Taptrue only shows: it commands no motion and is no interlock.',
  });
  return cautions;
}
