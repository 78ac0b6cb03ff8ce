import type { LeadSigns, StatusLines } from '../transport/transport.ts';
import { type ControlLines, LINES_TRIED } from './settings-tried.ts';

export type StatusLine = keyof StatusLines;

const ALL: readonly StatusLine[] = ['cts', 'dsr', 'dcd'];

/**
 * What the status lines tell of power at the far end, where not a byte came.
 *
 * refused: the port does not set DTR and RTS. not seen: the lines could not be read, or not at every level,
 * so that nothing follows. never on: readable at every level of DTR and RTS, off at each. on by itself: on
 * at each level, so not ours sent back. across: on only with one of ours up and the other down, the voltage
 * that leads fed from the port live on. ours sent back: on with DTR, or on with RTS, whatever the other is:
 * bridged in the plug, or fed by it. comes and goes: none of these.
 */
export type PowerSeen =
  | { kind: 'refused' | 'not seen' | 'never on' }
  | { kind: 'on by itself' | 'comes and goes'; on: readonly StatusLine[] }
  | { kind: 'across'; on: readonly StatusLine[]; lines: ControlLines }
  | { kind: 'ours sent back'; asDtr: readonly StatusLine[]; asRts: readonly StatusLine[] };

interface Level {
  timesRead: number;
  timesOn: Record<StatusLine, number>;
}

type Pattern = 'off' | 'on' | 'with dtr' | 'with rts' | 'dtr across' | 'rts across' | 'mixed';

/** Levels of LINES_TRIED in their order: both up, DTR up alone, RTS up alone. */
const PATTERNS: Readonly<Record<string, Pattern>> = {
  'off off off': 'off',
  'on on on': 'on',
  'on on off': 'with dtr',
  'on off on': 'with rts',
  'off on off': 'dtr across',
  'off off on': 'rts across',
};

/** Gathers, for each level of DTR and RTS, how often each status line was on. Bounded: counts only. Pure. */
export class PowerEvidence {
  readonly #levels: readonly Level[] = LINES_TRIED.map(() => ({
    timesRead: 0,
    timesOn: { cts: 0, dsr: 0, dcd: 0 },
  }));
  #refused = false;

  saw(lines: ControlLines, { setsLines, status }: LeadSigns): void {
    this.#refused ||= !setsLines;
    const index = LINES_TRIED.findIndex(({ dtr, rts }) => dtr === lines.dtr && rts === lines.rts);
    const level = this.#levels[index];
    if (level === undefined || status === null) return;
    level.timesRead += 1;
    for (const line of ALL) if (status[line]) level.timesOn[line] += 1;
  }

  get seen(): PowerSeen {
    if (this.#refused) return { kind: 'refused' };
    if (this.#levels.some(({ timesRead }) => timesRead === 0)) return { kind: 'not seen' };
    const patterns = new Map(ALL.map((line) => [line, this.#patternOf(line)]));
    const having = (...wanted: Pattern[]) =>
      ALL.filter((line) => wanted.includes(patterns.get(line)!));
    const byItself = having('on');
    if (byItself.length > 0) return { kind: 'on by itself', on: byItself };
    for (const [pattern, lines] of [
      ['dtr across', LINES_TRIED[1]!],
      ['rts across', LINES_TRIED[2]!],
    ] as const) {
      const across = having(pattern);
      if (across.length > 0) return { kind: 'across', on: across, lines };
    }
    const asDtr = having('with dtr');
    const asRts = having('with rts');
    if (asDtr.length + asRts.length > 0) return { kind: 'ours sent back', asDtr, asRts };
    const mixed = having('mixed');
    return mixed.length > 0 ? { kind: 'comes and goes', on: mixed } : { kind: 'never on' };
  }

  /** At one level a line is on or off only where it was so at more than half of the looks, charging up aside. */
  #patternOf(line: StatusLine): Pattern {
    const words = this.#levels.map(({ timesRead, timesOn }) => {
      if (timesOn[line] === 0) return 'off';
      return timesOn[line] * 2 > timesRead ? 'on' : 'at times';
    });
    return PATTERNS[words.join(' ')] ?? 'mixed';
  }
}
