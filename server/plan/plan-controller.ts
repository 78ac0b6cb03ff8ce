import {
  type Answer,
  BlockSet,
  type Command,
  checkerOf,
  type Fault,
  JobFile,
  type JobSummary,
  type PlanQuestion,
  type Setup,
} from '@taptrue/protocol';
import { folderNameOf } from '../files/data-folder.ts';
import { JsonShelf } from '../files/json-shelf.ts';
import { done, refused } from '../state/answers.ts';
import type { SectionStore } from '../state/section-store.ts';
import { PlanDesk, type PlannedSetup } from './plan-desk.ts';
import { checkSet } from './sets/read-set.ts';
import { STANDARD_SETS } from './sets/standard-sets.ts';
import { setupSheet } from './sheet/setup-sheet.ts';

export const PLAN_KINDS = [
  'change plan',
  'blocks taken',
  'use plan',
  'new plan',
  'keep job',
  'open job',
  'duplicate job',
  'remove job',
  'import job',
  'keep set',
  'remove set',
] as const;

export type PlanCommand = Extract<Command, { kind: (typeof PLAN_KINDS)[number] }>;

export interface PlanRoomOptions {
  store: SectionStore;
  /** Jobs belong to a bench, block sets to the shop. */
  jobsFolder: string;
  setsFolder: string;
  remembered: PlanQuestion | null;
  setup(): Setup;
  /** Carries the plan into the sweep's setup; `isOther`: it is not the plan that is in use. */
  carryOver(change: PlannedSetup, isOther: boolean): Answer;
  raise(from: string, fault: Fault): void;
}

/** The plan with its shelves: jobs and block sets kept as files. All file work of planning is here. */
export class PlanController {
  readonly desk: PlanDesk;
  readonly #options: PlanRoomOptions;
  readonly #jobs: JsonShelf<JobFile>;
  readonly #sets: JsonShelf<BlockSet>;

  constructor(options: PlanRoomOptions) {
    this.#options = options;
    this.desk = new PlanDesk(options.store, options.remembered);
    let seen = options.store.get('sweep');
    let setup = options.store.get('setup');
    options.store.onChange(() => {
      if (setup !== options.store.get('setup')) {
        setup = options.store.get('setup');
        this.desk.setUp();
      }
      const sweep = options.store.get('sweep');
      if (sweep === seen) return;
      seen = sweep;
      if (sweep?.state === 'ended' && sweep.result) this.desk.swept(sweep.result);
    });
    this.#jobs = new JsonShelf(options.jobsFolder, checkerOf(JobFile).parse);
    this.#sets = new JsonShelf(options.setsFolder, (text) => {
      const parsed = checkerOf(BlockSet).parse(text);
      if (!parsed.ok) return parsed;
      const checked = checkSet(parsed.value);
      return checked.ok ? checked : { ok: false, why: checked.fault.what };
    });
  }

  /** Reads both shelves; what cannot be read is a fault and is left as it is. */
  async open(): Promise<void> {
    await this.#readSets();
    await this.#readJobs();
  }

  async command(command: PlanCommand): Promise<Answer> {
    switch (command.kind) {
      case 'change plan':
        return this.desk.change(command.change);
      case 'blocks taken':
        return this.desk.taken(command.blocks, command.under);
      case 'use plan':
        return this.#use();
      case 'new plan':
        return this.desk.renew();
      case 'import job':
        return this.#import(command.file);
      case 'keep job':
      case 'open job':
      case 'duplicate job':
      case 'remove job':
      case 'keep set':
      case 'remove set':
        return this.#shelve(command);
    }
  }

  /** A kept job as it would be exported; null where there is none of that id. */
  async job(id: string): Promise<JobFile | null> {
    const { things } = await this.#jobs.list();
    return things.find((thing) => thing.id === id)?.value ?? null;
  }

  /** The setup sheet of the plan as it stands; null where there is no plan. */
  sheet(paper: 'a4' | 'letter', dateText: string): string | null {
    const { answer } = this.#options.store.get('plan');
    return answer ? setupSheet(this.desk.question, answer, paper, dateText) : null;
  }

  #use(): Answer {
    const used = this.desk.use(this.#options.setup());
    if (!used.ok) return used.answer;
    const carried = this.#options.carryOver(used.change, !this.#options.store.get('plan').inUse);
    if (!carried.ok) return carried;
    this.desk.carried();
    return done([carried.note, used.note].filter((text) => text !== '').join(' '));
  }

  /** A set that came with the job is kept, unless one of that name is here already. */
  async #import(file: JobFile): Promise<Answer> {
    const { set } = file;
    if (set && !this.desk.sets.some((here) => here.id === set.id)) {
      const kept = await this.#shelve({ kind: 'keep set', set });
      if (!kept.ok) return kept;
    }
    this.desk.open(file, null);
    return done('The job is open. Keep it to find it again.');
  }

  async #shelve(command: PlanCommand): Promise<Answer> {
    try {
      switch (command.kind) {
        case 'keep job':
          return await this.#keepJob();
        case 'open job':
        case 'duplicate job':
          return await this.#openJob(command);
        case 'remove job': {
          if (!(await this.#jobs.remove(command.id))) return refused(noSuch('job', command.id));
          this.desk.removed(command.id);
          await this.#readJobs();
          return done('The job is removed.');
        }
        case 'keep set':
          return await this.#keepSet(command.set);
        case 'remove set': {
          if (!(await this.#sets.remove(command.id))) return refused(noSuch('set', command.id));
          await this.#readSets();
          return done('The set is removed.');
        }
        default:
          return refused(noSuch('command', command.kind));
      }
    } catch (error) {
      return refused({
        code: 'not-kept',
        what: 'That could not be written.',
        got: error instanceof Error ? error.message : String(error),
        remedy: 'Make room or change the rights of the data folder, and try again.',
      });
    }
  }

  async #keepJob(): Promise<Answer> {
    const { question } = this.desk;
    const title = titleOf(question);
    const taken = new Set((await this.#jobs.list()).things.map((thing) => thing.id));
    const id = this.desk.jobId ?? freeName(folderNameOf(title), taken);
    await this.#jobs.write(id, this.desk.jobFile);
    this.desk.kept(id);
    await this.#readJobs();
    return done(`Kept as "${title}".`);
  }

  async #openJob(
    command: Extract<PlanCommand, { kind: 'open job' | 'duplicate job' }>,
  ): Promise<Answer> {
    const file = await this.job(command.id);
    if (!file) return refused(noSuch('job', command.id));
    if (command.kind === 'open job') {
      this.desk.open(file, command.id);
      return done(`"${titleOf(file.question)}" is open.`);
    }
    const { question } = file;
    const hand = question.hand === 'right-away' ? 'left-away' : 'right-away';
    const copy = command.otherHand
      ? ({ ...question, hand, job: `${question.job}, other hand`.slice(0, 120) } as PlanQuestion)
      : question;
    // The stack of the other hand is wrung anew and stands at the other end: it is added up anew.
    this.desk.open({ ...file, question: copy, taken: [], takenLow: [] }, null);
    return done(
      command.otherHand
        ? 'A copy for the other hand is open. Add its stack up anew.'
        : 'A copy is open.',
    );
  }

  async #keepSet(set: BlockSet): Promise<Answer> {
    if (STANDARD_SETS.some((standard) => standard.id === set.id)) {
      return refused({
        code: 'set-name-taken',
        what: 'A set that ships has this name.',
        got: set.id,
        remedy: 'Give your own set another name.',
      });
    }
    const checked = checkSet(set);
    if (!checked.ok) return refused(checked.fault);
    await this.#sets.write(set.id, checked.value);
    await this.#readSets();
    return done(`"${set.title}" is kept.`);
  }

  async #readSets(): Promise<void> {
    const { things, unread } = await this.#sets.list();
    for (const file of unread) this.#options.raise('sets', notRead('block set', file));
    this.desk.setOwnSets(things.map((thing) => thing.value));
  }

  async #readJobs(): Promise<void> {
    const { things, unread } = await this.#jobs.list();
    for (const file of unread) this.#options.raise('jobs', notRead('job', file));
    const jobs = things.map(
      ({ id, value, changedAt }): JobSummary => ({
        id,
        title: titleOf(value.question),
        angleText: value.question.angle.text,
        hand: value.question.hand,
        changedAt: changedAt.toISOString(),
      }),
    );
    this.#options.store.set('jobs', { jobs });
  }
}

function titleOf(question: PlanQuestion): string {
  return question.job.trim() || `job at ${question.angle.text || 'no angle'}`;
}

/** Job ids have at most sixty characters; a number behind the name takes up to ten. */
const LONGEST_STEM = 50;

/** `plate`, `plate-2`, `plate-3`: the first that is free. */
function freeName(name: string, taken: ReadonlySet<string>): string {
  const stem = name.slice(0, LONGEST_STEM).replace(/-+$/, '');
  let number = 1;
  let free = stem;
  while (taken.has(free)) {
    number += 1;
    free = `${stem}-${number}`;
  }
  return free;
}

function noSuch(what: string, id: string): Fault {
  return {
    code: 'not-on-the-shelf',
    what: `There is no such ${what}.`,
    got: id,
    remedy: 'It may have been removed on another screen. Pick one from the list.',
  };
}

function notRead(what: string, file: { name: string; why: string }): Fault {
  return {
    code: 'file-not-read',
    what: `A kept ${what} could not be read and is left out.`,
    got: `${file.name}: ${file.why}`,
    remedy: 'Correct it with a text editor, or move it out of the folder.',
  };
}
