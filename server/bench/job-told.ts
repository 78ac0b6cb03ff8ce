import type { BenchSection, Stage } from '@taptrue/protocol';
import { type JobFacts, jobStanding, safetyCautions } from './standing.ts';

/** What the screens are told of bench and job: where it stands, what to do now, what to beware of. Pure. */
export function jobTold(
  bench: Pick<BenchSection, 'name' | 'simulated' | 'recordFile' | 'serviceVersion'> & {
    stage: Stage;
    number: number;
  },
  facts: JobFacts,
): BenchSection {
  const { number, ...known } = bench;
  const job = jobStanding(facts);
  return { ...known, job: { number, ...job }, cautions: safetyCautions(facts, job.standing) };
}
