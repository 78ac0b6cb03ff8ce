/** A piece of one job's record, written whole or not at all. */
export interface RecordBatch {
  /** Key of the job. */
  job: string;
  /** Counts the batches of the job from 1: one that is sent twice is kept once. */
  seq: number;
  /** The entries as lines of JSON, each with its line end. */
  lines: string;
  entries: number;
  readings: number;
  firstAtMs: number;
  lastAtMs: number;
  /** Lowest and highest usable reading of the indicator, mm; null: none. */
  lowMm: number | null;
  highMm: number | null;
  /** Where the job comes from; left out: this bench measured it. */
  origin?: string;
}
