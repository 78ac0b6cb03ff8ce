import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { Fault } from '../faults/fault.ts';
import { LengthUnit } from '../quantity/units.ts';
import { LinkName, LinkSource } from './link.ts';

/**
 * listening, making sure: nothing is sent. asking: requests go out, as was allowed. waiting for its key: a
 * press of the device's send key is waited for. question: does its screen say this? connected: the answer
 * was yes. nothing found: see the fault. stopped: by a screen.
 */
export const FindState = Type.Union([
  Type.Literal('listening'),
  Type.Literal('making sure'),
  Type.Literal('asking'),
  Type.Literal('waiting for its key'),
  Type.Literal('question'),
  Type.Literal('connected'),
  Type.Literal('nothing found'),
  Type.Literal('stopped'),
]);
export type FindState = Type.Static<typeof FindState>;

export const FindQuestion = Type.Object(
  {
    number: Type.String({ description: 'As the screen of the device has it: -0.0125' }),
    unit: Nullable(LengthUnit),
    channel: Nullable(Type.String()),
    text: Type.String({ description: 'The line as it came, control bytes escaped' }),
    shape: Type.String({ description: 'Title of the line shape' }),
    settings: Type.String({
      description: 'Speed, bits, parity; empty where there is nothing to set',
    }),
    lead: Type.String({
      description:
        'What was seen of its lead, such as that it is silent unless DTR and RTS are set so; empty: nothing',
    }),
    sends: Type.String({ description: 'When the device sends, in words' }),
    index: Type.Integer({ minimum: 0 }),
    of: Type.Integer({ minimum: 1 }),
  },
  closed,
);
export type FindQuestion = Type.Static<typeof FindQuestion>;

/** Bytes of a device that no known shape reads, and where and with which settings they were heard. */
export const FindUnread = Type.Object(
  {
    source: LinkSource,
    form: Type.Union([Type.Literal('lines'), Type.Literal('bytes')]),
    captured: Type.String({
      maxLength: 4096,
      description: 'As they came, Latin-1, one character a byte; may begin in the middle of a line',
    }),
  },
  closed,
);
export type FindUnread = Type.Static<typeof FindUnread>;

/** A device being found; null where none is. One search at a time, the same on every screen. */
export const FindSection = Type.Object(
  {
    link: LinkName,
    port: Type.String(),
    state: FindState,
    sentence: Type.String({ description: 'What is being done, or what came of it' }),
    settingsTried: Type.Integer({ minimum: 0 }),
    secondsLeft: Nullable(
      Type.Integer({ minimum: 0, description: 'Of what is being done now, at most' }),
    ),
    consent: Type.Union(
      [
        Type.Literal('not asked yet'),
        Type.Literal('wanted'),
        Type.Literal('given'),
        Type.Literal('refused'),
      ],
      {
        description:
          'Whether one-character requests may be sent. wanted: it would help, nobody has said',
      },
    ),
    question: Nullable(FindQuestion),
    fault: Nullable(Fault),
    unread: Type.Optional(FindUnread),
  },
  closed,
);
export type FindSection = Type.Static<typeof FindSection>;
