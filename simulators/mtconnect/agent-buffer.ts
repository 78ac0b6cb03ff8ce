/** One observation as an agent keeps it. */
export interface Observation {
  sequence: number;
  itemId: string;
  /** ISO 8601, by the agent's clock. */
  timestamp: string;
  /** A number, or UNAVAILABLE. */
  text: string;
}

/**
 * What an agent keeps of its observations: the last so many, counted from 1, the oldest falling out at the
 * other end; and the latest of each item for as long as it stands.
 */
export class AgentBuffer {
  private kept: Observation[] = [];
  private readonly latest = new Map<string, Observation>();
  private next = 1;

  constructor(
    readonly bufferSize: number,
    itemIds: readonly string[],
    timestamp: string,
  ) {
    for (const itemId of itemIds) this.add(itemId, 'UNAVAILABLE', timestamp);
  }

  get firstSequence(): number {
    return Math.max(1, this.next - this.kept.length);
  }

  get lastSequence(): number {
    return this.next - 1;
  }

  get nextSequence(): number {
    return this.next;
  }

  add(itemId: string, text: string, timestamp: string): void {
    const observation = { sequence: this.next, itemId, timestamp, text };
    this.next += 1;
    this.latest.set(itemId, observation);
    this.kept.push(observation);
    if (this.kept.length > this.bufferSize) this.kept.shift();
  }

  /** How things stand. */
  current(itemIds: readonly string[] | null): Observation[] {
    return this.only([...this.latest.values()], itemIds);
  }

  /** What came from this number on; null where some of it has fallen out, or the number is yet to come. */
  since(from: number, itemIds: readonly string[] | null): Observation[] | null {
    if (from < this.firstSequence || from > this.next) return null;
    return this.only(
      this.kept.filter(({ sequence }) => sequence >= from),
      itemIds,
    );
  }

  private only(observations: Observation[], itemIds: readonly string[] | null): Observation[] {
    return itemIds === null
      ? observations
      : observations.filter(({ itemId }) => itemIds.includes(itemId));
  }
}
