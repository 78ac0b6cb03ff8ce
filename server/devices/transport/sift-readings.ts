import type { LengthUnit, LinkConfig } from '@taptrue/protocol';
import type { Decoded } from '../formats/decode-frame.ts';

export type WholeFrame = Extract<Decoded, { kind: 'reading' }>;

/** Whether a whole frame is a reading of this link, and in which unit. */
export type Sifted =
  | { kind: 'ours'; unit: LengthUnit }
  | { kind: 'second'; unit: LengthUnit }
  | { kind: 'other channel'; channel: string; wanted: string }
  | { kind: 'other unit'; sent: LengthUnit; expected: LengthUnit }
  | { kind: 'no unit' };

/**
 * Keeps the readings of one channel in one unit. With no channel set the first seen stays; "as sent" the
 * first unit seen stays. Neither changes by unplugging: the number on the screen must not become
 * another axis, or 25.4 times itself, while someone looks at it.
 */
export class ReadingSieve {
  private channel: string | null;
  private unit: LengthUnit | null;
  private readonly second: string | null;
  private readonly fixedUnit: boolean;

  constructor(config: Pick<LinkConfig, 'channel' | 'secondChannel' | 'unit'>) {
    this.channel = config.channel;
    this.second = config.secondChannel ?? null;
    this.unit = config.unit === 'as sent' ? null : config.unit;
    this.fixedUnit = config.unit !== 'as sent';
  }

  sift(frame: WholeFrame): Sifted {
    const isSecond = this.second !== null && frame.channel === this.second;
    const kind = isSecond ? 'second' : 'ours';
    // An axis that only says "absent" is not the one that is meant by "the first seen".
    if (frame.value !== null && !isSecond) this.channel ??= frame.channel;
    if (
      !isSecond &&
      frame.channel !== null &&
      this.channel !== null &&
      frame.channel !== this.channel
    ) {
      return { kind: 'other channel', channel: frame.channel, wanted: this.channel };
    }
    // No number, no unit needed: which one is named with "over range" changes nothing.
    if (frame.value === null) return { kind, unit: frame.unit ?? this.unit ?? 'mm' };
    if (frame.unit === null) {
      return this.fixedUnit && this.unit !== null ? { kind, unit: this.unit } : { kind: 'no unit' };
    }
    this.unit ??= frame.unit;
    return frame.unit === this.unit
      ? { kind, unit: frame.unit }
      : { kind: 'other unit', sent: frame.unit, expected: this.unit };
  }
}
