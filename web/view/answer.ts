import { formatLength, fromMm, type LengthUnit, usualDecimals } from '@taptrue/protocol';
import type { Screen } from '../state/latest-state.ts';
import type { Notch } from './gauge-scale.ts';
import { acrossWord } from './words.ts';

/** The one number beside the picture and what it is. */
export interface FaceNumber {
  label: string;
  /** null: the live reading stands here, painted by the frame loop. */
  text: string | null;
  unit: string;
}

export interface FaceAnswer {
  number: FaceNumber;
  sentence: string;
  verdict: 'true' | 'not true' | 'too close to call' | null;
  /** Reckoned anew with every reading: worth no more than the reading is. */
  followsReading?: true;
}

function bareLength(mm: number, unit: LengthUnit): string {
  return Math.abs(fromMm(mm, unit)).toFixed(usualDecimals(unit));
}

/** What the Sweep place says: the reading until there is a line, then how far it is out from end to end. */
export function sweepAnswer(screen: Screen): FaceAnswer {
  const { sweep, setup, bench } = screen.state;
  const result = sweep?.result ?? null;
  if (sweep === null || sweep.state === 'being taken' || result === null) {
    return { number: readingNumber(screen), sentence: bench.job.next, verdict: null };
  }
  const number = {
    label:
      sweep.outdated === ''
        ? 'out of true, end to end'
        : `sweep ${sweep.id} found, at ${sweep.stage}`,
    text: bareLength(result.endToEndMm, setup.displayUnit),
    unit: setup.displayUnit,
  };
  if (sweep.outdated !== '') {
    return { number, sentence: `${sweep.outdated} ${bench.job.next}`, verdict: null };
  }
  return {
    number,
    sentence: result.sentence,
    verdict: result.verdict,
  };
}

/** The live reading, or the last one keyed where no device sends any. */
function readingNumber({ state }: Screen): FaceNumber {
  const { sweep, setup, links } = state;
  const unit = setup.displayUnit;
  const keyedMm = links.indicator.state === 'not set' ? lastKeyedMm(state) : null;
  const next = sweep?.state === 'being taken' ? (sweep.nextStation?.xMm ?? null) : null;
  if (keyedMm !== null) {
    return {
      label: 'the last reading keyed in',
      text: formatLength(keyedMm, unit, { plus: true, bare: true }),
      unit,
    };
  }
  const decimals = unit === 'in' ? 3 : 1;
  const where = next === null ? '' : ` at ${formatLength(next, unit, { decimals })}`;
  return { label: `the reading${where}`, text: null, unit };
}

/** Where the needle must come to rest by the last sweep, while it still holds; null: it does not, is not known, or nothing is left to tap. */
export function stopNotch({ sweep }: Screen['state']): Notch | null {
  if (sweep?.state !== 'ended' || sweep.outdated !== '' || sweep.zeroMoved !== '') return null;
  if (sweep.result?.verdict === 'true') return null;
  const readingMm = sweep.result?.tapToReadingMm ?? null;
  return readingMm === null ? null : { readingMm, lowMm: readingMm, highMm: readingMm };
}

/** Reading of the station taken last; null before the first. */
export function lastKeyedMm({ sweep }: Screen['state']): number | null {
  return sweep?.state === 'being taken' ? (sweep.points.at(-1)?.readingMm ?? null) : null;
}

/** The big word over the number: where in the sweep one is, until there is a verdict. */
export function sweepWord({ state }: Screen): string {
  const { sweep, setup } = state;
  if (sweep === null) return 'not measured';
  if (sweep.state === 'ended') {
    if (sweep.result === null) return 'no result';
    return sweep.outdated === '' ? '' : 'sweep again';
  }
  const way = sweep.pass === 'back' ? 'going back' : 'sweeping';
  if (setup.way !== 'stations') return way;
  if (sweep.nextStation === null) return 'all stations taken';
  const back = sweep.nextStation.pass === 'back' ? ', going back' : '';
  return `station ${sweep.nextStation.index + 1} of ${setup.stationsMm.length}${back}`;
}

/** The big word at the mallet: what to do about the needle, or what has to come before. */
export function tapWord({ state }: Screen): string {
  const { tap, sweep } = state;
  if (tap !== null) return tap.standing;
  if (sweep?.result == null) return 'not measured';
  return sweep.outdated === '' ? 'not parked' : 'sweep again';
}

/** What the Tap place says: how much the surface at the mallet has still to move. */
export function tapAnswer(screen: Screen): FaceAnswer {
  const { tap, setup } = screen.state;
  if (tap === null || tap.remainingAtMalletMm === null) {
    return {
      number: { label: 'the reading', text: null, unit: setup.displayUnit },
      sentence: tap === null ? parkSentence(screen) : tap.sentence,
      verdict: null,
    };
  }
  const way = acrossWord(tap.remainingAtMalletMm, setup.axis);
  return {
    number: {
      label: tap.standing === 'stop' ? 'left at the mallet' : `left to tap, ${way}`,
      text: bareLength(tap.remainingAtMalletMm, setup.displayUnit),
      unit: setup.displayUnit,
    },
    sentence: tap.sentence,
    verdict: null,
    followsReading: true,
  };
}

function parkSentence({ state: { sweep, bench } }: Screen): string {
  if (sweep !== null && sweep.outdated !== '') return `${sweep.outdated} ${bench.job.next}`;
  return bench.job.next;
}
