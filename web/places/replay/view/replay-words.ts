import {
  formatAngle,
  formatLength,
  type LengthUnit,
  type RecordMark,
  type RecordOverview,
  type ReplayFigures,
  type ReplaySection,
  radiansFromArcsec,
  type WhatIfPart,
} from '@taptrue/protocol';

const PART_WORDS: Readonly<Record<WhatIfPart, string>> = {
  pivot: 'pivot',
  limit: 'limit',
  stylus: 'stylus',
  rises: 'sense of the reading',
  decisionRule: 'decision rule',
};

/** `limit and pivot`; empty where all is as recorded. */
export function whatIfWords({ whatIf }: Pick<ReplaySection, 'whatIf'>): string {
  const words = whatIf.map((part) => PART_WORDS[part]);
  return words.length < 2
    ? (words[0] ?? '')
    : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** `12.4 s`, `3:05`, `2:14:09`. */
export function spanWords(ms: number): string {
  const seconds = Math.max(0, ms) / 1000;
  if (seconds < 60) return `${seconds.toFixed(1)} s`;
  const whole = Math.floor(seconds);
  const two = (value: number) => String(value).padStart(2, '0');
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor((whole % 3600) / 60);
  return hours > 0
    ? `${hours}:${two(minutes)}:${two(whole % 60)}`
    : `${minutes}:${two(whole % 60)}`;
}

/** `×0.25`, `×50`. */
export function speedWords(speed: number): string {
  return `×${speed < 10 ? Number(speed.toFixed(2)) : Math.round(speed)}`;
}

export interface SweepSpan {
  number: number;
  beginsMs: number;
  /** null: it never ended. */
  endsMs: number | null;
}

/** The sweeps of a record by its marks, oldest first. */
export function sweepSpans(marks: readonly RecordMark[]): SweepSpan[] {
  const spans: SweepSpan[] = [];
  for (const { kind, atMs, text } of marks) {
    if (kind === 'sweep begins') {
      const number = Number(/\d+/.exec(text)?.[0] ?? spans.length + 1);
      spans.push({ number, beginsMs: atMs, endsMs: null });
    } else if (kind === 'sweep ends') {
      const last = spans.at(-1);
      if (last && last.endsMs === null) last.endsMs = atMs;
    }
  }
  return spans;
}

/** What happened last, in the words of its mark. */
export function lastMark(overview: RecordOverview | null, atMs: number): string {
  const past = overview?.marks.filter((mark) => mark.atMs <= atMs + 0.5);
  return past?.at(-1)?.text ?? '';
}

/** Figures of a sweep for the table that holds recorded beside now; a dash where there is none. */
export function figureRows(
  recorded: ReplayFigures | null,
  now: ReplayFigures | null,
  unit: LengthUnit,
): { name: string; recorded: string; now: string; isSame: boolean }[] {
  const row = (name: string, say: (figures: ReplayFigures) => string, differ: unknown[]) => ({
    name,
    recorded: recorded ? say(recorded) : '—',
    now: now ? say(now) : '—',
    isSame: differ[0] === differ[1],
  });
  const both = (key: keyof ReplayFigures) => [recorded?.[key] ?? null, now?.[key] ?? null];
  return [
    row('verdict', ({ verdict }) => verdict ?? 'no limit', both('verdict')),
    row(
      'out of true',
      ({ outOfTrueArcsec }) => formatAngle(radiansFromArcsec(outOfTrueArcsec), { plus: true }),
      both('outOfTrueArcsec'),
    ),
    row(
      '± of it, 95 %',
      ({ outOfTrueArcsecExpanded: u }) =>
        u === null ? 'not known' : formatAngle(radiansFromArcsec(u)),
      both('outOfTrueArcsecExpanded'),
    ),
    row(
      'end to end',
      ({ endToEndMm }) => formatLength(endToEndMm, unit, { plus: true }),
      both('endToEndMm'),
    ),
    row(
      'stop at',
      ({ tapToReadingMm: mm }) => (mm === null ? '—' : formatLength(mm, unit, { plus: true })),
      both('tapToReadingMm'),
    ),
  ];
}
