import type { Fault } from '@taptrue/protocol';

/** What the service itself refuses, one function a reason: what happened, what was got, what to do. */

/** What is told after the record is closed would be acknowledged and lost. */
export function serviceEnds(): Fault {
  return {
    code: 'service-ends',
    what: 'The service is being ended: nothing is taken any more.',
    got: '',
    remedy:
      'Start it again. What was taken before is on the disk, and the job goes on where it stood.',
  };
}

export function benchScreenOnly(): Fault {
  return {
    code: 'bench-screen-only',
    what: 'Tablets are managed on the bench screen only.',
    got: '',
    remedy: 'Do it on the computer the service runs on.',
  };
}

export function memoryNotKept(folder: string, error: unknown): Fault {
  return {
    code: 'memory-not-kept',
    what: 'What this bench remembers (setup, nudges, devices, tablets) could not be written.',
    got: `${error instanceof Error ? error.message : String(error)} in ${folder}`,
    remedy:
      'Make room or change the rights of the folder. Until then it is forgotten when the service stops.',
  };
}

export function tabletNotKnown(got: string): Fault {
  return {
    code: 'tablet-not-known',
    what: 'There is no such tablet.',
    got,
    remedy: 'It may have been removed already.',
  };
}
