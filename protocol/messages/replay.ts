import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { Fault } from '../faults/fault.ts';
import { Setup } from '../measuring/measuring-settings.ts';
import { Verdict } from '../measuring/sweep-result.ts';

/** Recorded seconds a second: slow enough to see a needle ring, fast enough for an hour in a minute. */
export const SLOWEST_REPLAY = 0.25;
export const FASTEST_REPLAY = 50;
export const REPLAY_SPEEDS: readonly number[] = [0.25, 0.5, 1, 2, 5, 10, 25, 50];

/** Parts of the setup that may be tried otherwise in a replay; nothing of what was measured hangs on them. */
export const WHAT_IF_PARTS = ['pivot', 'limit', 'stylus', 'rises', 'decisionRule'] as const;
export type WhatIfPart = (typeof WHAT_IF_PARTS)[number];
const WhatIfPartSchema = Type.Union([
  Type.Literal('pivot'),
  Type.Literal('limit'),
  Type.Literal('stylus'),
  Type.Literal('rises'),
  Type.Literal('decisionRule'),
]);

const { pivot, limit, stylus, rises, decisionRule } = Setup.properties;
/** Those parts of a setup, as recorded or as tried. */
export const WhatIfSetup = Type.Object({ pivot, limit, stylus, rises, decisionRule }, closed);
export type WhatIfSetup = Type.Static<typeof WhatIfSetup>;

/** What a sweep said, as far as it is held beside what it says now. */
export const ReplayFigures = Type.Object(
  {
    outOfTrueArcsec: Type.Number(),
    outOfTrueArcsecExpanded: Nullable(Type.Number()),
    endToEndMm: Type.Number(),
    tapToReadingMm: Nullable(Type.Number()),
    verdict: Nullable(Verdict),
    sentence: Type.String(),
  },
  closed,
);
export type ReplayFigures = Type.Static<typeof ReplayFigures>;

/** Where a replay stands. Its screens have the other sections from the bench that is told the record again. */
export const ReplaySection = Type.Object(
  {
    id: Type.String({ description: 'Names this replay in its routes' }),
    job: Type.String({ description: 'Key of the job' }),
    jobNumber: Type.Integer({ minimum: 1 }),
    sweep: Nullable(Type.Integer({ description: 'The sweep that was asked for; null: the job' })),
    atMs: Type.Number({ description: "The recording's clock, as all times here" }),
    beginsMs: Type.Number(),
    endsMs: Type.Number(),
    wallClock: Type.String({ description: 'Time of day at beginsMs, ISO 8601; empty: not known' }),
    speed: Type.Number({ minimum: SLOWEST_REPLAY, maximum: FASTEST_REPLAY }),
    isPlaying: Type.Boolean(),
    reachedSpeed: Nullable(
      Type.Number({
        description: 'Kept instead of `speed`, where this computer is too slow for it',
      }),
    ),
    goingThere: Nullable(
      Type.Number({ minimum: 0, maximum: 1, description: 'Part of the way to where it was sent' }),
    ),
    whatIf: Type.Array(WhatIfPartSchema, { description: 'Tried otherwise than recorded' }),
    recordedSetup: WhatIfSetup,
    compared: Nullable(
      Type.Object(
        {
          sweep: Type.Integer(),
          isSame: Type.Boolean({ description: 'To the last digit, drawn points too' }),
          recorded: Nullable(ReplayFigures),
          recomputed: Nullable(ReplayFigures),
        },
        { ...closed, description: 'The last sweep that ended; null figures: it gave no line' },
      ),
    ),
    same: Type.Integer({
      minimum: 0,
      description: 'Stations, taps and sweeps that came out again',
    }),
    different: Type.Integer({ minimum: 0 }),
    why: Type.String({ description: 'Why they differ, in words; empty: they do not' }),
    recordedVersion: Type.String(),
    version: Type.String(),
    piecesDamaged: Type.Integer({ minimum: 0 }),
  },
  closed,
);
export type ReplaySection = Type.Static<typeof ReplaySection>;

const move = <K extends string, P extends Type.TProperties>(name: K, properties: P) =>
  Type.Object({ move: Type.Literal(name), ...properties }, closed);

/** What a hand does with a replay, beside trying another setup. */
export const ReplayMove = Type.Union([
  move('play', {}),
  move('pause', {}),
  move('speed', { speed: Type.Number({ minimum: SLOWEST_REPLAY, maximum: FASTEST_REPLAY }) }),
  move('step', {
    way: Type.Union([Type.Literal('on'), Type.Literal('back')]),
    to: Type.Union([Type.Literal('anything'), Type.Literal('station'), Type.Literal('tap')]),
  }),
  move('to', { atMs: Type.Number() }),
  move('as recorded', {}),
  move('close', {}),
]);
export type ReplayMove = Type.Static<typeof ReplayMove>;

export const ReplayAsk = Type.Object(
  {
    job: Type.String({ pattern: '^[A-Za-z0-9-]{1,80}$' }),
    sweep: Nullable(Type.Integer({ minimum: 1 })),
  },
  closed,
);
export type ReplayAsk = Type.Static<typeof ReplayAsk>;

export const ReplayOpened = Type.Union([
  Type.Object({ ok: Type.Literal(true), id: Type.String() }, closed),
  Type.Object({ ok: Type.Literal(false), fault: Fault }, closed),
]);
export type ReplayOpened = Type.Static<typeof ReplayOpened>;

/** A moment of a record worth stepping to. */
export const RecordMark = Type.Object(
  {
    kind: Type.Union([
      Type.Literal('job'),
      Type.Literal('nudge'),
      Type.Literal('sweep begins'),
      Type.Literal('station'),
      Type.Literal('sweep ends'),
      Type.Literal('parked'),
      Type.Literal('tap'),
      Type.Literal('stage'),
      Type.Literal('setup'),
      Type.Literal('device'),
      Type.Literal('service'),
      Type.Literal('fault'),
    ]),
    atMs: Type.Number(),
    text: Type.String(),
  },
  closed,
);
export type RecordMark = Type.Static<typeof RecordMark>;

/** The most columns that can be asked for: one a pixel of the widest screen. */
export const MOST_OVERVIEW_COLUMNS = 4000;

/** The whole needle over a time, as wide as a screen can show it. */
export const RecordOverview = Type.Object(
  {
    beginsMs: Type.Number({ description: 'Of the whole record' }),
    endsMs: Type.Number(),
    fromMs: Type.Number({ description: 'Of the columns' }),
    toMs: Type.Number(),
    readings: Type.Integer({ minimum: 0, description: 'Within fromMs and toMs, both devices' }),
    columns: Type.Array(
      Nullable(
        Type.Object(
          { lowMm: Type.Number(), highMm: Type.Number() },
          { ...closed, description: 'Lowest and highest usable reading of the indicator' },
        ),
      ),
      { maxItems: MOST_OVERVIEW_COLUMNS },
    ),
    marks: Type.Array(RecordMark, { description: 'Of the whole record' }),
    marksLeftOut: Type.Integer({ minimum: 0 }),
  },
  closed,
);
export type RecordOverview = Type.Static<typeof RecordOverview>;

/** Close code of a replay's stream (RFC 6455, 4000 and up are ours): it is closed, and waiting does not help. */
export const REPLAY_GONE_CODE = 4410;
