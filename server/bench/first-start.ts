import {
  emptyCard,
  firstSetup,
  type JobStart,
  type LinksSection,
  nextCard,
  nextSetup,
  type RecordEntryOf,
} from '@taptrue/protocol';
import type { BenchOptions } from './bench-options.ts';
import { noNudges, rememberedNudges } from './nudge-desk.ts';

/** How everything stands when a bench begins its first job: as it remembers, or as nobody has said anything. */
export function firstStart(
  job: Pick<JobStart, 'job' | 'key'>,
  remembered: BenchOptions['remembered'],
  links: LinksSection,
): JobStart {
  return {
    ...job,
    setup: nextSetup(remembered?.setup ?? firstSetup()),
    stage: 'nipped',
    nudges: remembered ? rememberedNudges(remembered.nudges) : noNudges(),
    links,
    latest: { indicator: null, readout: null },
    card: nextCard(remembered?.card ?? emptyCard()),
  };
}

/** The first entry of a job's record: everything that what follows hangs on. */
export function openedEntry(
  { name, serviceVersion, isSimulated, wallClock }: BenchOptions,
  start: JobStart,
  atMs: number,
): RecordEntryOf<'opened'> {
  return {
    entry: 'opened',
    atMs,
    version: serviceVersion,
    wallClock: wallClock?.() ?? '',
    bench: name,
    simulated: isSimulated ?? false,
    start,
  };
}
