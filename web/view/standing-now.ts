import type { BenchState, ReplaySection } from '@taptrue/protocol';
import type { LatestState } from '../state/latest-state.ts';
import { type ReadingStanding, readingStanding } from './reading-standing.ts';

/**
 * The reading's standing in this frame, for all that paint by the clock: two of them side by side never
 * disagree. In a replay a reading ages by the recording's time, and not at all while that stands still.
 */
export function standingNow(
  latest: Pick<LatestState, 'connection' | 'liveReceivedAtMs'>,
  state: BenchState,
  nowMs: number,
): ReadingStanding {
  const { live, links, setup, replay } = state;
  return readingStanding({
    live,
    link: links.indicator,
    connected: latest.connection.kind === 'connected',
    range: setup.indicator.rangeMm,
    sinceReceiptMs: (nowMs - latest.liveReceivedAtMs) * recordedPace(replay),
  });
}

function recordedPace(replay: ReplaySection | null): number {
  if (replay === null) return 1;
  return replay.isPlaying ? replay.speed : 0;
}
