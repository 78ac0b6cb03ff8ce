import type { Fault } from '@taptrue/protocol';
import type { SetUp } from '../set-ups/set-up.ts';

export function setUpNotKnown(got: string, rows: readonly SetUp[]): Fault {
  return {
    code: 'set-up-not-known',
    what: 'This set-up is not known, or not this way.',
    got,
    remedy: `Choose one of ${rows.map(({ name }) => name).join(', ')}.`,
  };
}

export function noSetUpChosen(): Fault {
  return {
    code: 'set-up-not-chosen',
    what: 'No set-up is chosen. Nothing was taken.',
    got: '',
    remedy: 'Choose one on the Set-ups place.',
  };
}

export function placeNotRead(got: string, example: string): Fault {
  return {
    code: 'set-up-answer-not-read',
    what: 'The place could not be read. Nothing was taken.',
    got,
    remedy: `Type ${example}.`,
  };
}

export function setUpFull(): Fault {
  return {
    code: 'set-up-full',
    what: 'More places than a set-up holds. Nothing was taken.',
    got: '72 places at most',
    remedy: 'Keep the result, or strike a reading out.',
  };
}

export function noSweepForSetUp({ name, fit }: SetUp, axis: string): Fault {
  return {
    code: 'no-sweep-for-set-up',
    what: 'There is no sweep that this set-up could take. Nothing was taken.',
    got:
      fit === 'circle'
        ? `${name} is read round a circle`
        : `${name} wants a sweep along ${axis.toUpperCase()}`,
    remedy: 'End a sweep of this very thing first, or key the readings here.',
  };
}

export function nothingToKeep(): Fault {
  return {
    code: 'nothing-to-keep',
    what: 'This result is kept already.',
    got: '',
    remedy: 'Read it anew if something was moved since.',
  };
}

export function noPartToAimBy(): Fault {
  return {
    code: 'no-part-to-aim-by',
    what: 'There is no part to aim by, or the aim was changed by this one already.',
    got: '',
    remedy: 'Prove a part on the plate first. One part changes the aim once.',
  };
}
