import type { Fault } from '@taptrue/protocol';

/** What the Proof place refuses, one function a reason: what happened, what was got, what to do. */

export function proofNotRead(error: unknown): Fault {
  return {
    code: 'proof-not-read',
    what: 'The kept jobs could not be read.',
    got: error instanceof Error ? error.message : String(error),
    remedy: 'Ask again. If it stays, look at the fault about the record, and at the disk.',
  };
}

export function jobNotKept(key: string): Fault {
  return {
    code: 'job-not-kept',
    what: 'No job of that name is kept here.',
    got: key,
    remedy: 'Look it up in the list under Proof; the bin may have been emptied of it.',
  };
}

export function sweepNotKept(got: string): Fault {
  return {
    code: 'sweep-not-kept',
    what: 'A sweep that was named is not kept, or it gave no line.',
    got,
    remedy: 'Pick the sweeps from the list under Proof: two to twenty, each with a line.',
  };
}

export function noteNotThere(number: number): Fault {
  return {
    code: 'note-not-there',
    what: 'There is no such note, or it is struck out already.',
    got: `note ${number}`,
    remedy: 'Load the job again.',
  };
}

export function noteEmpty(what: string): Fault {
  return {
    code: 'note-empty',
    what,
    got: '',
    remedy: 'Type a text and your name or initials.',
  };
}

export function jobRunning(): Fault {
  return {
    code: 'job-running',
    what: 'The job that is going on cannot be put into the bin.',
    got: '',
    remedy: 'Begin a new job first.',
  };
}

export function writingHeld(): Fault {
  return {
    code: 'writing-held',
    what: 'It is not on the disk yet: the disk refuses.',
    got: '',
    remedy: 'See the fault about the record. What was written is tried again by itself.',
  };
}
