import type { JobStart, LinkName, LinkReport, Setup } from '@taptrue/protocol';
import type { SetUp } from '../set-ups/set-up.ts';
import type { DeskContext } from './desk.ts';
import { LiveNeedle } from './live-needle.ts';
import { Measuring } from './measuring.ts';
import { NudgeDesk } from './nudge-desk.ts';
import { SetUpDesk } from './set-up-desk.ts';
import { SweepDesk } from './sweep-desk.ts';
import { SweepWatch } from './sweep-watch.ts';
import { TapDesk } from './tap-desk.ts';
import { ZeroWatch } from './zero-watch.ts';

/** What serves one job of a bench. */
export interface Desks {
  measuring: Measuring;
  live: LiveNeedle;
  nudges: NudgeDesk;
  sweeps: SweepDesk;
  taps: TapDesk;
  setUps: SetUpDesk;
  zeroWatch: ZeroWatch;
  sweepWatch: SweepWatch;
}

/** Fresh desks for a job, so that nothing of the one before, told or untold, reaches into it. */
export function seatDesks(options: {
  setup(): Setup;
  report(link: LinkName): LinkReport;
  contextFor(measuring: Measuring): DeskContext;
  start: JobStart;
  setUps: readonly SetUp[];
}): Desks {
  const { start } = options;
  const measuring = new Measuring(options.setup, options.report);
  for (const link of ['indicator', 'readout'] as const) {
    const reading = start.latest[link];
    if (reading) measuring.latest.note(link, reading);
  }
  const context = options.contextFor(measuring);
  const nudges = new NudgeDesk(context, measuring, start.nudges);
  const sweeps = new SweepDesk(context, measuring, nudges);
  return {
    measuring,
    nudges,
    sweeps,
    taps: new TapDesk(context, measuring, sweeps),
    setUps: new SetUpDesk(context, measuring, options.setUps),
    live: new LiveNeedle(context, measuring.latest),
    zeroWatch: new ZeroWatch(),
    sweepWatch: new SweepWatch(
      () => sweeps.idBeingTaken,
      (caution) => sweeps.notice(caution),
    ),
  };
}
