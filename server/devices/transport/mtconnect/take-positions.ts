import { escapeControls } from '../../formats/escape-controls.ts';
import type { SourceEvents } from '../source-events.ts';
import type { ReadingIntake } from '../take-readings.ts';
import type { Position } from './documents.ts';
import { type AgentNames, unavailableFault } from './mtconnect-faults.ts';
import { readPosition, timesOf } from './read-position.ts';

/** One position that is listened to: the agent's id for it, and what the user calls it. */
export interface FollowedItem {
  id: string;
  wanted: string;
}

export interface TakePositionsOptions {
  intake: ReadingIntake;
  names: AgentNames;
  events: () => SourceEvents | null;
}

/** Observations of an agent to readings: in millimetres, at the time they were, absent where there is none. */
export class TakePositions {
  private readonly last = new Map<string, Position>();
  private readonly givenAtMs = new Map<string, number>();
  private items: readonly FollowedItem[] = [];

  constructor(private readonly options: TakePositionsOptions) {}

  follow(items: readonly FollowedItem[]): void {
    this.items = items;
    this.last.clear();
  }

  /**
   * What one document brought; an item of which it brought nothing stands where it stood, and says so anew.
   * How things stand holds as of now; what has changed, changed when it says.
   */
  take(positions: readonly Position[], arrivedAtMs: number, as: 'stands' | 'changed'): void {
    const times =
      as === 'stands'
        ? positions.map(() => arrivedAtMs)
        : timesOf(
            positions.map(({ timestamp }) => timestamp),
            arrivedAtMs,
          );
    positions.forEach((position, index) => {
      this.last.set(position.itemId, position);
      this.give(position, times[index]!);
    });
    for (const { id } of this.items) {
      const standing = this.last.get(id);
      if (standing && !positions.includes(standing)) this.give(standing, arrivedAtMs);
    }
  }

  private give(position: Position, wasAtMs: number): void {
    const item = this.items.find(({ id }) => id === position.itemId);
    if (!item) return;
    const { intake, names, events } = this.options;
    // Never before the one before it: two clocks meet here, and pairing goes by time.
    const atMs = Math.max(wasAtMs, this.givenAtMs.get(item.id) ?? wasAtMs);
    this.givenAtMs.set(item.id, atMs);
    intake.show(escapeControls(`${position.itemId} #${position.sequence}: ${position.text}`));
    const number = readPosition(position.text);
    const isFirst = item === this.items[0];
    if (number === null && isFirst) {
      const fault = unavailableFault(names, item.wanted, escapeControls(position.text));
      const wasThere = intake.missedSinceMs === null;
      if (wasThere) this.pass(item, null, atMs);
      intake.miss(() => fault, atMs);
      if (wasThere) events()?.refused(fault);
      return;
    }
    this.pass(item, number, atMs);
  }

  private pass(item: FollowedItem, number: ReturnType<typeof readPosition>, atMs: number): void {
    this.options.intake.take(
      {
        kind: 'reading',
        value: number?.value ?? null,
        decimals: number?.decimals ?? 0,
        // By the standard, whatever the machine's own unit is.
        unit: 'mm',
        status: number === null ? 'error' : 'ok',
        channel: item.wanted,
      },
      atMs,
    );
  }
}
