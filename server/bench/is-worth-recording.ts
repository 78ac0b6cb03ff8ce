import type { LinkReport } from '@taptrue/protocol';
import { staleAfterMs } from './latest-readings.ts';

/** Reports come four times a second, for their counters; true where one holds what a measurement can hang on. */
export function isWorthRecording(before: LinkReport, now: LinkReport): boolean {
  return (
    before.state !== now.state ||
    before.trigger !== now.trigger ||
    before.fault?.code !== now.fault?.code ||
    before.simulated !== now.simulated ||
    JSON.stringify(before.config) !== JSON.stringify(now.config) ||
    staleAfterMs(before) !== staleAfterMs(now)
  );
}
