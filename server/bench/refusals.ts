import type { Fault, LinkName } from '@taptrue/protocol';

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
