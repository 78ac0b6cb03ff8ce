import type { Position, StreamHeader } from './documents.ts';

/** What a document of a stream is to the thread that is being followed. */
export type Threading =
  | { kind: 'goes on'; positions: readonly Position[] }
  /** The agent was started anew: it counts anew, and may know other machines. */
  | { kind: 'agent restarted' }
  /** Observations between the last document and this one are gone. */
  | { kind: 'gap'; lost: number };

/**
 * Follows the agent's count of observations from document to document: each observation once, in order, a gap
 * and a restart noticed. Numbers above 2^53 would be compared as rounded; at a thousand a second an agent gets
 * there in 285,000 years.
 */
export class Thread {
  private instanceId: string | null = null;
  private next = 0;
  private readonly lastGiven = new Map<string, number>();

  constructor(private readonly itemIds: readonly string[]) {}

  /** The number to ask from. */
  get nextSequence(): number {
    return this.next;
  }

  /** A document that says how things stand: wherever the thread was, it is here now. */
  begin(header: StreamHeader, positions: readonly Position[]): Threading {
    const restarted = this.instanceId !== null && this.instanceId !== header.instanceId;
    if (restarted) return { kind: 'agent restarted' };
    this.instanceId = header.instanceId;
    this.next = header.nextSequence;
    // A value that stands is given again: it holds as of now.
    const ours = this.ours(positions);
    for (const { itemId, sequence } of ours) this.lastGiven.set(itemId, sequence);
    return { kind: 'goes on', positions: ours };
  }

  /** A document that goes on from the last one. */
  goOn(header: StreamHeader, positions: readonly Position[]): Threading {
    if (header.instanceId !== this.instanceId) return { kind: 'agent restarted' };
    if (header.firstSequence > this.next) {
      return { kind: 'gap', lost: header.firstSequence - this.next };
    }
    this.next = Math.max(this.next, header.nextSequence);
    const fresh = this.ours(positions).filter(
      ({ itemId, sequence }) => sequence > (this.lastGiven.get(itemId) ?? 0),
    );
    for (const { itemId, sequence } of fresh) this.lastGiven.set(itemId, sequence);
    return { kind: 'goes on', positions: fresh };
  }

  /** Of the items followed, in the order the agent counted them. */
  private ours(positions: readonly Position[]): Position[] {
    return positions
      .filter(({ itemId, sequence }) => this.itemIds.includes(itemId) && Number.isFinite(sequence))
      .sort((one, other) => one.sequence - other.sequence);
  }
}
