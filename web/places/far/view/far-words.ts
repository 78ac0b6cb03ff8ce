import { type BenchState, fromMm, usualDecimals } from '@taptrue/protocol';
import { acrossWord } from '../../../view/words.ts';
import { lowEnd, nudgeMm, parkAtMm, placeText, stageAfter } from './next-step.ts';

/** What stands on the face that is read from two metres. */
export interface FarWords {
  /** The verdict or where in the job one is, one line. */
  head: string;
  mark: 'true at tight' | 'true so far' | 'not true' | 'too close to call' | null;
  /** What to do, a line each: at most three. */
  lines: readonly string[];
}

const says = (head: string, lines: readonly string[], mark: FarWords['mark'] = null): FarWords => ({
  head,
  mark,
  lines,
});

/** What to do now with the hands, short enough for capitals of 20 minutes of arc. Pure. */
export function farWords(state: BenchState, isReadingGood: boolean): FarWords {
  const { sweep, nudges, setup, tap, bench } = state;
  if (sweep === null && nudges.y.state === 'not done') {
    return says('First nudge', ['Stylus on the jaw', 'Touch nothing']);
  }
  if (sweep === null && nudges.y.state === 'waiting for the move') {
    const slide = setup.axis === 'x' ? 'saddle' : 'table';
    return says('First nudge', [
      `Move the ${slide}`,
      acrossWord(1, setup.axis),
      `exactly ${amount(state, nudgeMm(state))}`,
    ]);
  }
  if (sweep === null) return says('Not measured', ['Stylus to the', `${lowEnd(state)} end`]);
  if (sweep.state === 'being taken') return takingWords(state);
  if (tap !== null) return tapWords(state, isReadingGood);
  if (sweep.outdated !== '' || sweep.stage !== bench.stage) {
    return says('Not known now', ['Sweep again', `at ${bench.stage}`]);
  }
  const { result } = sweep;
  if (result === null) return says('No result', ['Sweep again']);
  if (result.verdict === 'true') return trueWords(state);
  const advice = result.tap;
  if (result.verdict === null && result.limitArcsec === null)
    return says('No limit set', ['Set one', 'at the near page']);
  if (advice === null || advice.amountMm === 0) {
    return says(result.verdict ?? 'No verdict', ['Sweep again'], result.verdict);
  }
  return says(
    result.verdict ?? 'No verdict',
    [
      `${result.verdict === null ? '' : 'Off '}${amount(state, result.endToEndMm)}`,
      'Park the stylus',
      `${placeText(state, parkAtMm(state))} from ${lowEnd(state)}`,
    ],
    result.verdict,
  );
}

function trueWords({ bench }: BenchState): FarWords {
  const next = stageAfter(bench.stage);
  if (next === null) return says('TRUE, tight', ['Do not touch', 'the vise'], 'true at tight');
  return says(
    `so far, clamps ${bench.stage}`,
    ['Not done yet', `Tighten to ${next}`],
    'true so far',
  );
}

function takingWords(state: BenchState): FarWords {
  const { sweep, setup } = state;
  const next = sweep?.nextStation ?? null;
  const way = sweep?.pass === 'back' ? 'Going back' : 'Sweeping';
  if (setup.way !== 'stations') return says(way, ['One way, slowly', 'end to end']);
  if (next === null) return says('All taken', ['Hands off', 'End the sweep']);
  return says(`${way} ${next.index + 1} of ${setup.stationsMm.length}`, [
    'Stylus to',
    placeText(state, next.xMm),
    `from ${lowEnd(state)}`,
  ]);
}

function tapWords(state: BenchState, isReadingGood: boolean): FarWords {
  const { tap, sweep, setup } = state;
  if (tap === null || tap.remainingAtMalletMm === null || !isReadingGood) {
    return says('No reading', ['Do not tap']);
  }
  if (tap.standing === 'stop') return says('STOP', ['Mallet down', 'Sweep again']);
  const end = sweep?.result?.tap?.end ?? null;
  const left = amount(state, tap.remainingAtMalletMm);
  const lines = [acrossWord(tap.remainingAtMalletMm, setup.axis), `${left} to go`];
  const head = tap.standing === 'past' ? 'Past: other way' : 'Keep tapping';
  return says(head, end === null ? lines : [`Tap ${end} end`, ...lines]);
}

function amount({ setup }: BenchState, mm: number): string {
  const unit = setup.displayUnit;
  const size = Math.abs(fromMm(mm, unit)).toFixed(usualDecimals(unit));
  return `${size} ${unit}`;
}
