import {
  type BenchState,
  type Command,
  formatLength,
  STAGES,
  type Stage,
  toMm,
} from '@taptrue/protocol';
import { sideWords } from '../../../view/words.ts';

/** What the one key does now. Neither command nor place: nothing can be done yet, and the label says what is waited for. */
export interface NextStep {
  label: string;
  command: Command | null;
  /** The place the page goes to. */
  place: 'sweep' | 'proof' | 'devices' | null;
  /** What a long press does; null: nothing to go back to. Nothing that was measured is thrown away but the last station. */
  back: Command | null;
}

/** The usual nudge: large against a dial's error, small against its range. */
export function nudgeMm({ setup }: BenchState): number {
  return setup.displayUnit === 'in' ? toMm(0.005, 'in') : 0.1;
}

/** The table has moved when the dial shows at least a third of the nudge. */
const MOVED_SHARE = 1 / 3;

/**
 * The one next step of the job, from the first nudge to the signature. It names only commands that the
 * bench will take as it stands; where one would be refused, it says what is waited for. Pure.
 */
export function nextStep(state: BenchState, isReadingGood: boolean): NextStep {
  const { sweep, nudges, bench, links } = state;
  const taking = sweep?.state === 'being taken';
  if (links.indicator.state === 'not set') {
    // A figure has to be typed: that is work at the near page.
    return state.setup.entry === 'device'
      ? go('Connect the indicator', 'devices')
      : go('Key it in', 'sweep');
  }
  if (sweep === null && nudges.y.state === 'not done') {
    return isReadingGood
      ? send('Ready to nudge', { kind: 'begin nudge', nudge: 'y' })
      : noReading();
  }
  if (sweep === null && nudges.y.state === 'waiting for the move')
    return nudgeStep(state, isReadingGood);
  if (taking) return takingStep(state, isReadingGood);
  if (state.tap !== null) {
    return send('Taps done: sweep', { kind: 'begin sweep' }, { kind: 'leave tap' });
  }
  if (state.pivot.question !== null)
    return send(state.pivot.question.no, { kind: 'answer turn', yes: false });
  const holds = sweep !== null && sweep.outdated === '' && sweep.stage === bench.stage;
  if (!holds || sweep.result === null) return beginStep(state);
  if (sweep.result.verdict === 'true') {
    const next = stageAfter(bench.stage);
    return next === null
      ? go('Sign and print', 'proof')
      : send(`Clamps are ${next}`, { kind: 'set stage', stage: next });
  }
  if (sweep.result.verdict === null && sweep.result.limitArcsec === null)
    return go('Set the limit', 'sweep');
  const { tap } = sweep.result;
  if (tap === null || tap.amountMm === 0 || sweep.zeroMoved !== '') return beginStep(state);
  if (!isReadingGood) return noReading();
  return send(`Parked at ${placeText(state, parkAtMm(state))}`, {
    kind: 'park',
    xMm: parkAtMm(state),
  });
}

function nudgeStep(state: BenchState, isReadingGood: boolean): NextStep {
  const back: Command = { kind: 'forget nudge', nudge: 'y' };
  if (!isReadingGood) return { ...noReading(), back };
  const beforeMm = state.nudges.y.beforeMm;
  const nowMm = state.live.indicator?.valueMm ?? null;
  const movedMm = nudgeMm(state);
  const hasMoved =
    beforeMm !== null && nowMm !== null && Math.abs(nowMm - beforeMm) >= movedMm * MOVED_SHARE;
  if (!hasMoved) return { ...wait('Waits for the move'), back };
  return send('It has moved', { kind: 'finish nudge', nudge: 'y', movedMm }, back);
}

function takingStep({ sweep, setup }: BenchState, isReadingGood: boolean): NextStep {
  if (sweep === null) return wait('Wait');
  if (setup.way === 'readout') {
    // Half a way back is no pass: the end is offered once the line can be fitted.
    return sweep.result === null
      ? wait('Keep sweeping')
      : send('End the sweep', { kind: 'end sweep' });
  }
  if (setup.way === 'feed') {
    if (sweep.feedRunning) return send('Last mark passed', { kind: 'stop feed' });
    if (sweep.result !== null) return send('End the sweep', { kind: 'end sweep' });
    return isReadingGood ? send('First mark passed', { kind: 'start feed' }) : noReading();
  }
  const back: Command | null = sweep.points.length > 0 ? { kind: 'take back' } : null;
  if (sweep.nextStation === null) return send('End the sweep', { kind: 'end sweep' }, back);
  if (setup.entry === 'keyed') return { ...go('Key it in', 'sweep'), back };
  if (!isReadingGood) return { ...noReading(), back };
  return send(`Take station ${sweep.nextStation.index + 1}`, { kind: 'take station' }, back);
}

function beginStep(state: BenchState): NextStep {
  const { setup, links, nudges } = state;
  const needsReadout = setup.way === 'readout';
  if (needsReadout && links.readout.state !== 'live') return go('Connect the readout', 'devices');
  const isCounted = nudges.x.state === 'done' || nudges.x.finding !== '';
  // The count of the readout is settled at the near page: an end is marked or the table nudged.
  if (needsReadout && !isCounted) return go('Mark the ends', 'sweep');
  return send('Begin the sweep', { kind: 'begin sweep' });
}

/** The stage after this one; null: fully clamped. */
export function stageAfter(stage: Stage): Stage | null {
  return STAGES[STAGES.indexOf(stage) + 1] ?? null;
}

/** Where the stylus is parked: where the readout says, else at the station farthest from the pivot. */
export function parkAtMm({ setup, live, pivot }: BenchState): number {
  if (setup.way === 'readout' && live.xMm !== null) return Math.round(live.xMm * 100) / 100;
  return setup.stationsMm.reduce((best, xMm) =>
    Math.abs(xMm - pivot.xMm) > Math.abs(best - pivot.xMm) ? xMm : best,
  );
}

/** `3.75 in`, from the low end. */
export function placeText({ setup }: BenchState, xMm: number): string {
  return formatLength(xMm, setup.displayUnit, { decimals: setup.displayUnit === 'in' ? 2 : 1 });
}

/** The end the places are counted from. */
export function lowEnd({ setup }: BenchState): string {
  return sideWords(setup.axis).low;
}

function send(label: string, command: Command, back: Command | null = null): NextStep {
  return { label, command, place: null, back };
}
function go(label: string, place: NextStep['place']): NextStep {
  return { label, command: null, place, back: null };
}
function wait(label: string): NextStep {
  return { label, command: null, place: null, back: null };
}
const noReading = () => wait('Waits for a reading');
