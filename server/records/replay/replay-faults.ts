import type { Answer, Fault } from '@taptrue/protocol';
import type { Damage } from './record-cursor.ts';

export const refuse = (fault: Fault): Answer => ({ ok: false, fault });

export function noSuchJob(job: string): Fault {
  return {
    code: 'record-not-found',
    what: 'There is no record of that job here.',
    got: job,
    remedy: 'Pick a job from the list under Proof, or import its recording first.',
  };
}

export function noSuchSweep(job: string, sweep: number): Fault {
  return {
    code: 'sweep-not-found',
    what: 'That sweep has not ended in this job, so it cannot be replayed by itself.',
    got: `sweep ${sweep} of ${job}`,
    remedy: 'Replay the whole job, or pick another sweep from the list under Proof.',
  };
}

export function noBeginning(job: string): Fault {
  return {
    code: 'record-without-beginning',
    what: 'The first piece of this record is damaged or missing. It says how everything stood, so nothing after it can be replayed.',
    got: job,
    remedy: 'Bring back the last backup with taptrue restore, or import the recording of this job.',
  };
}

export function pieceDamaged(job: string, { piece, why }: Damage): Fault {
  return {
    code: 'record-piece-damaged',
    what: 'A piece of this record could not be read and was passed over. The rest plays on; results after it may differ.',
    got: `piece ${piece} of ${job}: ${why}`,
    remedy:
      'Look through the record with taptrue verify. A backup or an exported recording of this job may have the piece whole.',
  };
}

export function notInReplay(kind: string): Fault {
  return {
    code: 'replay-measures-nothing',
    what: 'This is a replay: nothing is measured here, and the bench is not touched.',
    got: kind,
    remedy:
      'Go back to the bench to measure. Here pivot, limit, stylus, sense and decision rule can be tried otherwise.',
  };
}

export function nothingFurther(way: 'on' | 'back', to: string): Fault {
  return {
    code: 'replay-nothing-further',
    what:
      way === 'on'
        ? 'Nothing of that kind comes after this.'
        : 'Nothing of that kind comes before this.',
    got: to,
    remedy: 'Step the other way, or drag the time scale.',
  };
}

export function tooManyReplays(most: number): Fault {
  return {
    code: 'too-many-replays',
    what: `${most} replays are being watched already.`,
    got: '',
    remedy: 'Close one of them, or wait until it has closed by itself.',
  };
}

export function replayGone(): Fault {
  return {
    code: 'replay-closed',
    what: 'This replay is closed.',
    got: '',
    remedy: 'Open it again from the list under Proof, or load the page again.',
  };
}

export function replayBusy(): Fault {
  return {
    code: 'replay-busy',
    what: 'The replay is still busy with what it was asked before.',
    got: '',
    remedy: 'Wait until it stands still, then ask again.',
  };
}

export function recordNotRead(job: string, why: string): Fault {
  return {
    code: 'record-not-read',
    what: 'The record of this job could not be read.',
    got: `${job}: ${why}`,
    remedy:
      'Try again. If it stays, look through the record with taptrue verify, or bring back the last backup with taptrue restore.',
  };
}
