import type {
  Answer,
  Comparison,
  Drift,
  JobDetail,
  Learned,
  LengthUnit,
  ProofNames,
  ProofPage,
  ProofQuery,
  SweepResult,
} from '@taptrue/protocol';
import { done, refused } from '../../state/answers.ts';
import type { SweepName } from '../store/find-detail.ts';
import type { KeptJob } from '../store/find-jobs.ts';
import type { ArchiveOptions, ProofCommand } from './archive-command.ts';
import { jobRunning } from './archive-faults.ts';
import { ArchiveWriter } from './archive-writer.ts';
import { compareSweeps, type SweepToCompare } from './compare.ts';
import { driftOf } from './drift.ts';
import { learnedFrom } from './learned.ts';
import { repeatsOf, runsOfRepeats } from './repeats.ts';

/**
 * The kept jobs: found, opened, compared, learned from, written to and put away. Asks the store's reading thread,
 * so that no list ever holds up a reading; every question rejects where that thread does.
 */
export class ArchiveController {
  readonly #options: ArchiveOptions;
  readonly #pen: ArchiveWriter;

  constructor(options: ArchiveOptions) {
    this.#options = options;
    this.#pen = new ArchiveWriter(options);
  }

  async jobs(query: ProofQuery): Promise<ProofPage> {
    const found = await this.#options.records.read.do('findJobs', query);
    return { ...found, jobs: found.jobs.map((job) => this.#withRunning(job)) };
  }

  /** null: there is no such job. */
  async job(key: string): Promise<JobDetail | null> {
    const { read } = this.#options.records;
    const [detail, turns] = await Promise.all([read.do('jobDetail', key), read.do('turnsOf', key)]);
    if (detail === null) return null;
    const repeated = detail.all.flatMap(({ number, stage, surfacePerReading, result }) =>
      result === null
        ? []
        : [
            {
              number,
              stage,
              surfacePerReading,
              slope: result.slope,
              lengthMm: result.lengthMm,
              standardArcsec: result.angleStandardUncertaintyArcsec,
            },
          ],
    );
    const repeats = runsOfRepeats(repeated, turns).flatMap(
      (run) => repeatsOf(key, run, this.#unit) ?? [],
    );
    return { ...detail, ...this.#withRunning(detail), repeats };
  }

  /** null: one of them is not kept, or has no line. */
  async comparison(names: readonly SweepName[]): Promise<Comparison | null> {
    const { read } = this.#options.records;
    const kept = await read.do('keptSweeps', names);
    const sweeps = kept.flatMap((one): SweepToCompare[] => {
      const { result } = one.ended;
      return result === null ? [] : [{ ...one, ended: withResult(one.ended, result) }];
    });
    if (sweeps.length !== names.length) return null;
    const keys = [...new Set(names.map(({ job }) => job))];
    const turns = new Map(
      await Promise.all(keys.map(async (key) => [key, await read.do('turnsOf', key)] as const)),
    );
    return compareSweeps(sweeps, turns, this.#unit);
  }

  async names(): Promise<ProofNames> {
    return this.#options.records.read.do('proofNames', undefined);
  }

  async drift(machine: string): Promise<Drift> {
    const { records, simulated } = this.#options;
    return driftOf(machine, await records.read.do('finalSweeps', { machine, simulated }));
  }

  /** Of the vise that the running job's card names, at the stage of now. */
  async learned(): Promise<Learned> {
    const { records, simulated, store } = this.#options;
    const { machine } = store.get('card');
    const { stage } = store.get('bench');
    return learnedFrom({
      machine,
      turns: await records.read.do('turnsOfVise', { machine, simulated }),
      stage,
      limitArcsec: store.get('sweep')?.result?.limitArcsec ?? null,
      unit: this.#unit,
    });
  }

  async command(command: ProofCommand): Promise<Answer> {
    switch (command.kind) {
      case 'write note':
      case 'strike note':
      case 'tag job':
        return this.#pen.write(command);
      case 'bin jobs':
        return this.#bin(command.jobs);
      case 'restore jobs': {
        const count = await this.#options.records.write.do('restoreJobs', { jobs: command.jobs });
        return done(`${jobsText(count)} back in the list.`);
      }
      case 'empty bin': {
        const { records, wallClock } = this.#options;
        const { emptied, signed } = await records.write.do('emptyBin', wallClock());
        const kept = signed === 0 ? '' : ` ${jobsText(signed)} signed, and kept in the bin.`;
        return done(`${jobsText(emptied)} deleted; a tombstone of each is left.${kept}`);
      }
    }
  }

  async #bin(jobs: readonly string[]): Promise<Answer> {
    const { records, runningJob, wallClock } = this.#options;
    if (jobs.includes(runningJob())) return refused(jobRunning());
    const count = await records.write.do('binJobs', { jobs, at: wallClock() });
    return done(`${jobsText(count)} put into the bin. Nothing is deleted yet.`);
  }

  get #unit(): LengthUnit {
    return this.#options.store.get('setup').displayUnit;
  }

  #withRunning<J extends KeptJob>(job: J): J & { running: boolean } {
    return { ...job, running: job.key === this.#options.runningJob() };
  }
}

function withResult<E>(ended: E, result: SweepResult): E & { result: SweepResult } {
  return { ...ended, result };
}

function jobsText(count: number): string {
  return count === 1 ? '1 job is' : `${count} jobs are`;
}
