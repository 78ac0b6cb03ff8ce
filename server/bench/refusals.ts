import type { Fault, LinkName } from '@taptrue/protocol';

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

export function deviceMissing(link: LinkName): Fault {
  return {
    code: 'device-missing',
    what: `This way of working needs the ${link}, and none is connected.`,
    got: '',
    remedy: 'Connect it under Devices, or choose stations and key the readings in.',
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
