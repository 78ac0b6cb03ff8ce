import type { RecordEntryOf } from '@taptrue/protocol';

/** What a table of points needs beside them to be understood without the record. */
export interface CsvContext {
  job: string;
  jobNumber: number;
}

const COLUMNS = [
  'position_mm',
  'reading_mm',
  'pass',
  'readings',
  'surface_mm',
  'off_line_mm',
  'job',
  'job_number',
  'sweep',
  'stage',
  'surface_per_reading',
  'line_slope',
  'line_at_zero_mm',
  'out_of_true_arcsec',
  'out_of_true_expanded_arcsec',
  'off_wanted_arcsec',
  'limit_arcsec',
  'verdict',
  'simulated',
] as const;

/**
 * The points of one sweep as comma-separated text, one row a point, in the order they were taken. Lengths in
 * millimetres, angles in seconds of arc, counter-clockwise positive. What holds for the whole sweep stands in
 * every row, so that rows of several sweeps can be put under one another. `taptrue fit` reads it. No cell holds
 * text that a person typed: a spreadsheet would take some of it for a formula.
 */
export function sweepCsv(
  { sweep, stage, points, result, surfacePerReading, simulated }: RecordEntryOf<'sweep ended'>,
  { job, jobNumber }: CsvContext,
): string {
  const whole = [
    job,
    jobNumber,
    sweep,
    stage,
    surfacePerReading,
    result?.slope ?? '',
    result?.interceptMm ?? '',
    result?.outOfTrueArcsec ?? '',
    result?.outOfTrueArcsecExpanded ?? '',
    // What the limit is held against; another figure where a slope was wanted.
    result?.deviationArcsec ?? '',
    result?.limitArcsec ?? '',
    result?.verdict ?? '',
    simulated ? 'yes' : 'no',
  ];
  const rows = points.map(({ xMm, readingMm, pass, samples }) => {
    const surfaceMm = surfacePerReading * readingMm;
    const offMm = result ? surfaceMm - (result.interceptMm + result.slope * xMm) : '';
    return [xMm, readingMm, pass, samples, surfaceMm, offMm, ...whole].join(',');
  });
  return `${[COLUMNS.join(','), ...rows].join('\r\n')}\r\n`;
}
