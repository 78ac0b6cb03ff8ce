import {
  type Fault,
  formatLength,
  type LengthUnit,
  type LinkName,
  type SweepResult,
} from '@taptrue/protocol';

/** What a bench refuses, one function a reason: what happened, what was got, what to do. */

export function sweepBeingTaken(): Fault {
  return {
    code: 'sweep-being-taken',
    what: 'A sweep is being taken; that would change its meaning.',
    got: '',
    remedy: 'End or abandon the sweep first.',
  };
}

export function noSweep(): Fault {
  return {
    code: 'no-sweep',
    what: 'No sweep of this kind is being taken.',
    got: '',
    remedy: 'Begin a sweep first.',
  };
}

export function countingNotKnown(): Fault {
  return {
    code: 'counting-not-known',
    what: 'It is not known yet which way the readout counts.',
    got: '',
    remedy:
      'Do the table nudge, or mark the left end and the right end, or set the direction in the setup.',
  };
}

export function deviceMissing(link: LinkName): Fault {
  return {
    code: 'device-missing',
    what: `This way of working needs the ${link}, and none is connected.`,
    got: '',
    remedy: 'Connect it under Devices, or choose stations and key the readings in.',
  };
}

export function nothingTyped(): Fault {
  return {
    code: 'nothing-typed',
    what: 'Readings are typed in, and nothing was typed.',
    got: '',
    remedy: 'Type the reading into the box, then Enter.',
  };
}

export function nothingToTakeBack(): Fault {
  return {
    code: 'nothing-to-take-back',
    what: 'No station has been taken yet.',
    got: '',
    remedy: 'Take the first one.',
  };
}

export function feedMarkRefused(mark: 'start' | 'stop'): Fault {
  return {
    code: 'feed-mark-refused',
    what: mark === 'start' ? 'The feed is running already.' : 'The feed has not been started.',
    got: '',
    remedy: mark === 'start' ? 'Set the last mark first.' : 'Set the first mark first.',
  };
}

export function endsTooClose(travelMm: number): Fault {
  return {
    code: 'ends-too-close',
    what: 'The right end lies where the left end was marked.',
    got: `${travelMm.toFixed(2)} mm from it`,
    remedy:
      'Mark the left end first, move the table to the left until the stylus stands at the right end, then mark that.',
  };
}

export function nothingToTapBy(): Fault {
  return {
    code: 'nothing-to-tap-by',
    what: 'There is no sweep to tap by yet.',
    got: '',
    remedy: 'Sweep the bar first; then park the stylus near the end that is tapped.',
  };
}

export function notParked(got: string): Fault {
  return {
    code: 'not-parked',
    what: 'The stylus is not parked.',
    got,
    remedy: 'Park it at a station first.',
  };
}

export function notHere(kind: string): Fault {
  return {
    code: 'command-not-here',
    what: 'The bench itself has no such command.',
    got: kind,
    remedy: 'Load the page again.',
  };
}

export function noTurnAsked(): Fault {
  return {
    code: 'no-turn-asked',
    what: 'Nothing is asked of the last two sweeps.',
    got: '',
    remedy: 'Go on with the next step.',
  };
}

export function planNotMade(): Fault {
  return {
    code: 'plan-not-made',
    what: 'There is no plan to sweep by yet.',
    got: '',
    remedy: 'Give the angle from the print, the bar and the set of blocks.',
  };
}

export function planNotBuilt(): Fault {
  return {
    code: 'plan-not-built',
    what: 'The blocks actually taken have not been keyed, or do not add up.',
    got: '',
    remedy:
      'Key the blocks as engraved, in any order, best by someone else: a wrong stack is the one mistake the sweep cannot see.',
  };
}

/** The stylus is said to stand where the live readout says it does not. */
export function parkedElsewhere(chosenMm: number, readoutMm: number, unit: LengthUnit): Fault {
  return {
    code: 'parked-elsewhere',
    what: 'The stylus is not where it was said to be parked. A stop reading from there would be wrong.',
    got: `chosen ${formatLength(chosenMm, unit)}, the readout says ${formatLength(readoutMm, unit)}`,
    remedy: 'Move the stylus to the place chosen, or choose the place the readout says.',
  };
}

/** The table was moved while the stylus counted as parked. */
export function movedWhileParked(
  parkedMm: number,
  readoutMm: number,
  stepsDropped: number,
  unit: LengthUnit,
): Fault {
  const dropped =
    stepsDropped === 0 ? '' : ' What the needle did meanwhile is not counted as a tap.';
  return {
    code: 'moved-while-parked',
    what: `The table moved, so the stylus is no longer parked.${dropped}`,
    got: `parked at ${formatLength(parkedMm, unit)}, the readout says ${formatLength(readoutMm, unit)}`,
    remedy: 'Bring the stylus to a place and park it there again, or sweep again.',
  };
}

/** A second press at the place where the last station was taken. */
export function samePlaceTwice(movedMm: number, unit: LengthUnit): Fault {
  return {
    code: 'same-place-twice',
    what: 'The station here is taken already. One place counts once.',
    got: `the readout moved by ${formatLength(movedMm, unit)} since`,
    remedy: 'Move the stylus to the next station, then take it.',
  };
}

/** A second press sooner than a hand can move the table. */
export function pressedTwice(afterMs: number, dropped: number): Fault {
  return {
    code: 'pressed-twice',
    what: `That was the same press twice: only the first was taken. ${dropped} dropped in this sweep.`,
    got: `${Math.round(afterMs)} ms after the station before`,
    remedy: 'Move the stylus to the next station, then press once.',
  };
}

/** A quick second press that shows the same reading: it may be the same press. */
export function sameReadingSoon(afterMs: number): Fault {
  return {
    code: 'same-reading-soon',
    what: 'Is that the same press twice? The reading has not changed, and nothing more was taken.',
    got: `${Math.round(afterMs)} ms after the station before`,
    remedy: 'If the stylus stands at the next station, press once more.',
  };
}

/** The last sweep was measured under another set-up: nothing is tapped by it. */
export function sweepVoid(why: string): Fault {
  return {
    code: 'sweep-void',
    what: 'There is no sweep of what is set now to tap by.',
    got: why,
    remedy: 'Sweep again, then park the stylus.',
  };
}

/** What is said of the last sweep makes it no line of the bar. */
export function noLineToTapBy({ cautions }: SweepResult): Fault {
  return {
    code: 'no-line-to-tap-by',
    what: 'The points of the last sweep are no line of the bar, so no stop reading can be told from it.',
    got: cautions.map(({ code }) => code).join(', '),
    remedy: 'Do what is said beside the result, and sweep again.',
  };
}
