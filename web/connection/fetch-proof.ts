import {
  Answer,
  Comparison,
  checkerOf,
  Drift,
  JobDetail,
  Learned,
  ProofNames,
  ProofPage,
  type ProofQuery,
} from '@taptrue/protocol';
import type { Fetched } from './fetch-lists.ts';
import { ANSWER_TIMEOUT_MS } from './post-command.ts';

const refusal = checkerOf(Answer);

/** What the kept jobs were asked, checked; a refusal is told in the service's own words. Never throws. */
async function ask<T>(
  path: string,
  { parse }: { parse(text: string): Fetched<T> },
): Promise<Fetched<T>> {
  try {
    const response = await fetch(`/api/proof/${path}`, {
      signal: AbortSignal.timeout(ANSWER_TIMEOUT_MS),
    });
    const text = await response.text();
    if (response.ok) return parse(text);
    const refused = refusal.parse(text);
    if (!refused.ok || refused.value.ok)
      return { ok: false, why: `the service answered ${response.status}` };
    const { what, remedy } = refused.value.fault;
    return { ok: false, why: `${what} ${remedy}` };
  } catch {
    return { ok: false, why: 'The service could not be reached.' };
  }
}

const page = checkerOf(ProofPage);
const detail = checkerOf(JobDetail);
const comparison = checkerOf(Comparison);
const names = checkerOf(ProofNames);
const drift = checkerOf(Drift);
const learned = checkerOf(Learned);

export function fetchKeptJobs(query: ProofQuery): Promise<Fetched<ProofPage>> {
  const asked = Object.entries(query).filter(([, value]) => value !== '');
  return ask(`jobs?${new URLSearchParams(asked as [string, string][])}`, page);
}

export function fetchKeptJob(key: string): Promise<Fetched<JobDetail>> {
  return ask(`jobs/${encodeURIComponent(key)}`, detail);
}

export function fetchComparison(sweeps: readonly string[]): Promise<Fetched<Comparison>> {
  return ask(`compare?${new URLSearchParams({ sweeps: sweeps.join(',') })}`, comparison);
}

export function fetchProofNames(): Promise<Fetched<ProofNames>> {
  return ask('names', names);
}

export function fetchDrift(machine: string): Promise<Fetched<Drift>> {
  return ask(`drift?${new URLSearchParams({ machine })}`, drift);
}

export function fetchLearned(): Promise<Fetched<Learned>> {
  return ask('learned', learned);
}
