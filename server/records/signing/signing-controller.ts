import type { Answer, BenchState, Caution, Command, Fault } from '@taptrue/protocol';
import { done, refused } from '../../state/answers.ts';
import { writingHeld } from '../archive/archive-faults.ts';
import type { JobJournal } from '../journal/job-journal.ts';
import { recordNotKept } from '../store/store-faults.ts';

export type SignCommand = Extract<Command, { kind: 'sign record' }>;

export interface SigningRoomOptions {
  records: Pick<JobJournal, 'add' | 'flush' | 'read' | 'path'>;
  state(): Pick<BenchState, 'bench' | 'sweep'>;
  /** Key of the job that is going on. */
  job(): string;
  now(): number;
  wallClock(): string;
}

/**
 * Signing the job that is going on: the fingerprint is taken of what is on the disk, up to a line that says who
 * signs, and then kept beside the name.
 */
export class SigningController {
  readonly #options: SigningRoomOptions;
  #isSigning = false;

  constructor(options: SigningRoomOptions) {
    this.#options = options;
  }

  async sign({ who, role, ticked }: SignCommand): Promise<Answer> {
    const name = who.trim();
    const why = name === '' ? noName() : this.#isSigning ? beingSigned() : this.#notReady();
    if (why) return refused(why);
    this.#isSigning = true;
    try {
      return await this.#signed(name, role, ticked);
    } catch (error) {
      return refused(recordNotKept(this.#options.records.path, error));
    } finally {
      this.#isSigning = false;
    }
  }

  async #signed(
    who: string,
    role: SignCommand['role'],
    ticked: readonly string[],
  ): Promise<Answer> {
    const { records, job, now, wallClock } = this.#options;
    const key = job();
    const cautions = this.#cautions().map((caution) => ({
      ...caution,
      ticked: ticked.includes(caution.code),
    }));
    const signing = { who, role, wallClock: wallClock(), cautions };
    records.add({ entry: 'signing', atMs: now(), ...signing });
    if (!(await records.flush())) return refused(notOnDisk());
    const taken = await records.read.do('signingFingerprint', key);
    // A new job may have been begun meanwhile: this one has its line `signing`, and no signature.
    if (!taken || job() !== key) return refused(jobClosed());
    const { sha256, lines } = taken;
    records.add({
      entry: 'signed',
      atMs: now(),
      who,
      role,
      wallClock: signing.wallClock,
      lines,
      fingerprint: sha256,
      cautions,
    });
    // A name on a screen or a paper must be in the record: nobody else remembers who it was.
    if (!(await records.flush())) return refused(writingHeld());
    return done(`Signed. Fingerprint ${sha256.slice(0, 16)}…`);
  }

  /** What stood on the screen to be minded; each code once. */
  #cautions(): Caution[] {
    const { bench, sweep } = this.#options.state();
    const all = [...bench.cautions, ...(sweep?.result?.cautions ?? [])];
    return all.filter(({ code }, at) => all.findIndex((other) => other.code === code) === at);
  }

  #notReady(): Fault | null {
    const { sweep } = this.#options.state();
    if (!sweep?.result || sweep.state !== 'ended')
      return nothingToSign(sweep ? 'a sweep that is being taken' : 'no sweep');
    return sweep.outdated === '' ? null : nothingToSign(sweep.outdated);
  }
}

function noName(): Fault {
  return {
    code: 'signature-no-name',
    what: 'A signature needs a name.',
    got: '',
    remedy: 'Write who signs.',
  };
}

function beingSigned(): Fault {
  return {
    code: 'being-signed',
    what: 'Someone signs this job at this moment.',
    got: '',
    remedy: 'Wait a moment and sign again.',
  };
}

function nothingToSign(got: string): Fault {
  return {
    code: 'nothing-to-sign',
    what: 'There is no final sweep to sign.',
    got,
    remedy: 'Sweep to the end, as the vise lies now, and sign then.',
  };
}

function notOnDisk(): Fault {
  return {
    code: 'nothing-to-sign',
    what: 'The record is not on the disk, so there is nothing that a signature could hold for.',
    got: '',
    remedy: 'Mend what the warning about the record says, and sign then.',
  };
}

function jobClosed(): Fault {
  return {
    code: 'nothing-to-sign',
    what: 'A new job was begun before the signature was kept.',
    got: '',
    remedy: 'Sign a job before the next one is begun.',
  };
}
