/** Ending of a recording's name: its lines are JSON, and any editor opens them. */
export const RECORDING_ENDING = '.taptrue.jsonl';

/** Characters of a key in a file name; keys are letters, digits and dashes, by schema. */
const LONGEST_KEY = 80;

/**
 * Name of a job's recording on any system: no separators, no reserved device names, whatever the key says.
 */
export function recordingFileName(
  jobNumber: number,
  key: string,
  sweep: number | null = null,
): string {
  return `${stem(jobNumber, key, sweep)}${RECORDING_ENDING}`;
}

export function csvFileName(jobNumber: number, key: string, sweep: number): string {
  return `${stem(jobNumber, key, sweep)}.csv`;
}

function stem(jobNumber: number, key: string, sweep: number | null): string {
  const safe = key.replace(/[^A-Za-z0-9-]/g, '').slice(0, LONGEST_KEY);
  return `job-${jobNumber}${sweep === null ? '' : `-sweep-${sweep}`}-${safe}`;
}
