import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { LinkName, LinkReport } from '../device/link.ts';
import { LONGEST_TEXT, Reading } from '../device/reading.ts';
import { Fault } from '../faults/fault.ts';
import { Setup, Stage } from '../measuring/measuring-settings.ts';
import { SetUpKept } from '../measuring/set-ups.ts';
import { Caution, PassName, SweepResult } from '../measuring/sweep-result.ts';
import { DrawnPoint, LinksSection, NudgesSection, TapStep } from '../messages/bench-state.ts';
import { Answer, Command } from '../messages/commands.ts';
import { PlanAnswer } from '../plan/plan.ts';
import { PlanQuestion } from '../plan/plan-question.ts';
import { JobCard } from './job-card.ts';
import { MOST_NAME, MOST_NOTE, TagText } from './proof-words.ts';
import { SignerRole } from './signer-role.ts';

const entry = <K extends string, P extends Type.TProperties>(
  name: K,
  properties: P,
  description: string,
) =>
  Type.Object(
    {
      entry: Type.Literal(name),
      atMs: Type.Number({ description: 'Monotonic clock of the service, milliseconds' }),
      ...properties,
    },
    { ...closed, description },
  );

const wallClock = Type.String({
  pattern: '^(\\d{4}-\\d\\d-\\d\\dT\\d\\d:\\d\\d:\\d\\d(\\.\\d{1,9})?Z)?$',
  description:
    'Time of day, ISO 8601 in UTC, empty where none was known; said beside the monotonic clock, never reckoned with',
});

const ticked = Type.Array(Type.Object({ ...Caution.properties, ticked: Type.Boolean() }, closed), {
  maxItems: 40,
  description: 'What was to be minded, and whether it was ticked',
});

/** Sweeps and notes are counted from one; a job has some hundreds of either, and a number beyond this could not be counted on from. */
const MOST_COUNTED = 1_000_000;
const counted = (description?: string) =>
  Type.Integer({ minimum: 1, maximum: MOST_COUNTED, ...(description && { description }) });

/** A job's number on its bench, its key, and how everything stood when it began. */
export const JobStart = Type.Object(
  {
    key: Type.String({ pattern: '^[A-Za-z0-9-]{1,80}$', description: 'Names this job everywhere' }),
    job: Type.Integer({ minimum: 1 }),
    setup: Setup,
    stage: Stage,
    nudges: NudgesSection,
    links: LinksSection,
    latest: Type.Object(
      { indicator: Nullable(Reading), readout: Nullable(Reading) },
      { ...closed, description: 'What the devices had last shown' },
    ),
    card: JobCard,
  },
  closed,
);
export type JobStart = Type.Static<typeof JobStart>;

/**
 * One line of the record (newline-delimited JSON). The record keeps every reading and is only added to; the
 * display may skip. `opened`, `command`, `reading`, `link` and `tick` are what happened: the bench that is told
 * them again says `station`, `tap step` and `sweep ended` again, to the last digit.
 */
export const RecordEntry = Type.Union([
  entry(
    'opened',
    {
      version: Type.String(),
      wallClock,
      bench: Type.String(),
      simulated: Type.Boolean(),
      start: JobStart,
    },
    'First line of a job',
  ),
  entry(
    'resumed',
    { version: Type.String(), wallClock },
    'The service was started again and the job goes on; the monotonic clock goes on behind it',
  ),
  entry('stopped', { wallClock }, 'The service ended in order'),
  entry('closed', { wallClock }, 'A new job was begun'),
  entry('command', { command: Command, answer: Answer }, 'What a hand told the service'),
  entry(
    'reading',
    { link: LinkName, reading: Reading, second: Type.Optional(Type.Literal(true)) },
    'A whole reading, its text as it came; second: of the other axis that is listened to',
  ),
  entry(
    'unread',
    {
      link: LinkName,
      text: Type.String({ maxLength: LONGEST_TEXT, description: 'Controls and bytes escaped' }),
      leftOut: Type.Integer({
        minimum: 0,
        description: 'More of them since the one before, beyond ten a second: counted, not kept',
      }),
    },
    'What a device sent that gave no reading, as it came: what was decoded wrongly can be put right later',
  ),
  entry('link', { link: LinkName, report: LinkReport }, 'A device is in another state'),
  entry('tick', {}, 'The bench looked at the clock in mid-sweep; only these can end a feed'),
  entry(
    'station',
    {
      sweep: counted(),
      xMm: Type.Number(),
      readingMm: Type.Number(),
      pass: PassName,
    },
    'Follows from what happened',
  ),
  entry('tap step', { sweep: counted(), step: TapStep }, 'Follows from what happened'),
  entry(
    'sweep ended',
    {
      sweep: counted(),
      stage: Stage,
      simulated: Type.Boolean(),
      begunAtMs: Type.Number(),
      samples: Type.Integer({ minimum: 0 }),
      points: Type.Array(DrawnPoint, { maxItems: 256 }),
      surfacePerReading: Type.Number({
        description: 'Surface per reading, signed: a point lies at y = this × readingMm',
      }),
      result: Nullable(SweepResult),
    },
    'Follows from what happened; result null: abandoned, or no line',
  ),
  entry(
    'between sweeps',
    {
      before: counted('Sweep before, the last one that gave a line'),
      after: counted(),
      stageBefore: Stage,
      stageAfter: Stage,
      turnedArcsec: Type.Number({ description: 'Signed, positive counter-clockwise' }),
      tapped: Nullable(
        Type.Union([Type.Literal('left'), Type.Literal('right')], {
          description: 'End of the vise struck between them; null: none',
        }),
      ),
      clampChanges: Type.Integer({
        minimum: 0,
        description: 'Times the clamps were changed between them',
      }),
      zeroMoved: Nullable(Type.String()),
      pivot: Nullable(
        Type.Object(
          {
            xMm: Type.Number(),
            uncertaintyMm: Type.Number({ minimum: 0 }),
            fromLeftClampMm: Type.Number({
              description: 'The same, from the left clamp: the same place whatever was swept',
            }),
          },
          { ...closed, description: 'Where the two lines cross; null: they tell nothing of it' },
        ),
      ),
    },
    'Follows from what happened: what two sweeps, one after the other, say of the vise',
  ),
  entry(
    'set-up kept',
    { kept: SetUpKept },
    'Follows from what happened: another set-up of this job',
  ),
  entry(
    'note',
    {
      number: counted('Counts the notes of the job'),
      sweep: Nullable(counted('null: of the whole job')),
      wallClock,
      by: Type.String({ maxLength: MOST_NAME }),
      text: Type.String({ minLength: 1, maxLength: MOST_NOTE }),
    },
    'Written by a person, also after the job was closed',
  ),
  entry(
    'note struck out',
    {
      number: counted(),
      wallClock,
      by: Type.String({ maxLength: MOST_NAME }),
      why: Type.String({ maxLength: MOST_NOTE }),
    },
    'The note stays and is shown struck out',
  ),
  entry(
    'tagged',
    {
      tag: TagText,
      on: Type.Boolean({ description: 'false: taken off again' }),
      wallClock,
      by: Type.String({ maxLength: MOST_NAME }),
    },
    'A word to find the job by',
  ),
  entry(
    'plan used',
    {
      question: PlanQuestion,
      answer: PlanAnswer,
      taken: Type.Array(Type.String(), { description: 'Blocks keyed in the re-add' }),
      takenLow: Type.Array(Type.String()),
    },
    'Limit, axis and target came from this plan',
  ),
  entry(
    'signing',
    {
      who: Type.String({ maxLength: 120 }),
      role: SignerRole,
      wallClock: Type.Optional(wallClock),
      cautions: Type.Optional(ticked),
    },
    'Someone signs: the fingerprint is over all lines up to this one, so that it covers name, time and ticks',
  ),
  entry(
    'signed',
    {
      who: Type.String({ maxLength: 120 }),
      role: SignerRole,
      wallClock,
      lines: Type.Integer({ minimum: 2, description: 'Lines of the recording up to `signing`' }),
      fingerprint: Type.String({
        pattern: '^[0-9a-f]{64}$',
        description: 'SHA-256 over those lines, in hexadecimal; printed on the paper',
      }),
      cautions: ticked,
    },
    'The job up to `signing` is signed, and this says the same as that; it can no longer be emptied from the bin',
  ),
  entry('fault', { from: Type.String(), fault: Fault }, 'What the user was told went wrong'),
]);
export type RecordEntry = Type.Static<typeof RecordEntry>;

export type RecordEntryOf<K extends RecordEntry['entry']> = Extract<RecordEntry, { entry: K }>;
