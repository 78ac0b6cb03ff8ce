import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { LineShape } from '../device/line-shape.ts';
import { LinkConfig, LinkName, LinkSource } from '../device/link.ts';
import { Fault } from '../faults/fault.ts';
import { End, SetupChange, Stage } from '../measuring/measuring-settings.ts';
import { BlockSet } from '../plan/block-set.ts';
import { JobFile, PlanQuestion } from '../plan/plan-question.ts';
import { MOST_INDICATED_MM, placeMm } from '../quantity/bounds.ts';
import { JobCardChange } from '../record/job-card.ts';
import { JobKey } from '../record/proof.ts';
import { MOST_NAME, MOST_NOTE, TagText } from '../record/proof-words.ts';
import { SignerRole } from '../record/signer-role.ts';

/** A changed part of the plan's question; whole values only, nothing merged below the first level. */
export const PlanChange = Type.Partial(PlanQuestion);
export type PlanChange = Type.Static<typeof PlanChange>;

const JobId = Type.String({ pattern: '^[a-z0-9-]{1,60}$' });

/** What was typed, as it was typed. The service reads it by the setup's rule and answers if it cannot. */
const Keyed = Type.String({ minLength: 1, maxLength: 40 });

/** Beside it, where it matters how the reading was typed. */
const typing = {
  lead: Type.Optional(
    Type.Boolean({
      description:
        'True: an indicator lead typed it. It is then read in the unit of the lead, never by the rule for typed readings',
    }),
  ),
  sure: Type.Optional(
    Type.Boolean({ description: 'True: taken though it was doubted (keyed-doubted)' }),
  ),
};

/** Who writes: a record that nobody initialled is worth little. */
const Name = Type.String({ minLength: 1, maxLength: MOST_NAME });

const kind = <K extends string, P extends Type.TProperties>(
  name: K,
  properties: P,
  description: string,
) => Type.Object({ kind: Type.Literal(name), ...properties }, { ...closed, description });

/** What a demo user may do to the simulated bench. */
export const DemoAct = Type.Union([
  Type.Object({ act: Type.Literal('table to'), xMm: placeMm() }, closed),
  Type.Object(
    {
      act: Type.Literal('traverse'),
      toMm: placeMm(),
      mmPerSecond: Type.Number({ minimum: 0.001, maximum: 100 }),
    },
    closed,
  ),
  Type.Object({ act: Type.Literal('stop table') }, closed),
  Type.Object(
    { act: Type.Literal('saddle'), towardColumnMm: Type.Number({ minimum: -1, maximum: 1 }) },
    closed,
  ),
  Type.Object(
    {
      act: Type.Literal('strike'),
      xMm: placeMm(),
      way: Type.Union([Type.Literal('away'), Type.Literal('toward')]),
      blow: Type.Union([Type.Literal('light'), Type.Literal('medium'), Type.Literal('firm')]),
    },
    closed,
  ),
  Type.Object({ act: Type.Literal('send key') }, closed),
  Type.Object({ act: Type.Literal('zero indicator') }, closed),
  Type.Object({ act: Type.Literal('new vise') }, closed),
]);
export type DemoAct = Type.Static<typeof DemoAct>;

export const Command = Type.Union([
  kind('change setup', { change: SetupChange }, 'Replaces whole values of the setup'),
  kind(
    'connect',
    { link: LinkName, config: LinkConfig },
    'Opens a device; an open one is closed first',
  ),
  kind('disconnect', { link: LinkName }, 'Closes a device'),
  kind(
    'begin find',
    {
      link: LinkName,
      source: LinkSource,
      closeFirst: Type.Boolean({ description: 'A device that is read from this port is closed' }),
    },
    'Finds how to read the device on a port; sends nothing to it',
  ),
  kind(
    'answer find',
    {
      answer: Type.Union([
        Type.Literal('yes'),
        Type.Literal('no'),
        Type.Literal('may ask'),
        Type.Literal('may not ask'),
      ]),
    },
    'The screen of the device says the same, or not; one-character requests may be sent, or not',
  ),
  kind('stop find', {}, 'Ends the search and puts away what came of it'),
  kind(
    'begin nudge',
    {
      nudge: Type.Union([Type.Literal('y'), Type.Literal('x')]),
      keyed: Type.Optional(Keyed),
      ...typing,
    },
    'Notes the reading before the move',
  ),
  kind(
    'finish nudge',
    {
      nudge: Type.Union([Type.Literal('y'), Type.Literal('x')]),
      movedMm: Type.Optional(
        Type.Number({ minimum: -MOST_INDICATED_MM, maximum: MOST_INDICATED_MM }),
      ),
      keyed: Type.Optional(Keyed),
      ...typing,
    },
    'Notes the reading after it; for y, how far the surface was moved away from you',
  ),
  kind(
    'skip nudge',
    { nudge: Type.Union([Type.Literal('y'), Type.Literal('x')]) },
    'Shown on every result from then on',
  ),
  kind(
    'forget nudge',
    { nudge: Type.Union([Type.Literal('y'), Type.Literal('x')]) },
    'Back to not done',
  ),
  kind('mark end', { end: End }, 'Readout: the stylus stands at this end of the swept length'),
  kind('begin sweep', {}, 'Starts a new sweep at the current stage'),
  kind(
    'take station',
    { keyed: Type.Optional(Keyed), ...typing },
    'Takes the reading at the next station',
  ),
  kind('take back', {}, 'Strikes out the last station taken'),
  kind('start feed', {}, 'Constant feed: the stylus passes the first mark now'),
  kind('stop feed', {}, 'Constant feed: the stylus passes the last mark now'),
  kind('end sweep', {}, 'Ends the sweep with what was taken'),
  kind('abandon sweep', {}, 'Ends it without a result; what was taken stays on record'),
  kind(
    'park',
    { xMm: placeMm(), keyed: Type.Optional(Keyed), ...typing },
    'The stylus stands still at x, the mallet will work',
  ),
  kind('tap reading', { keyed: Keyed, ...typing }, 'Keyed entry: the reading after a tap'),
  kind('leave tap', {}, 'The stylus is no longer parked'),
  kind('set stage', { stage: Stage }, 'How tight the clamps are now'),
  kind('zero moved', {}, 'The indicator was zeroed, moved or touched since the last sweep'),
  kind(
    'answer turn',
    {
      yes: Type.Boolean({
        description: 'False: no, or not sure; nothing is learned from that turn',
      }),
    },
    'Answers the question that the last two sweeps left of the turn between them',
  ),
  kind('forget learned pivot', {}, 'Back to the declared pivot'),
  kind('change plan', { change: PlanChange }, 'Replaces whole values of the plan’s question'),
  kind(
    'blocks taken',
    {
      blocks: Type.Array(Type.String({ maxLength: 16 }), { maxItems: 40 }),
      under: Type.Optional(Type.Union([Type.Literal('raised roll'), Type.Literal('other roll')])),
    },
    'The independent re-add: the blocks actually taken, in any order',
  ),
  kind('use plan', {}, 'Carries limit, axis, target and swept length into the sweep’s setup'),
  kind('new plan', {}, 'An empty plan with the last bar, jaw and set'),
  kind('keep job', {}, 'Keeps the plan as a job; one that was kept before is written over'),
  kind('open job', { id: JobId }, 'Opens a kept job as the plan'),
  kind(
    'duplicate job',
    { id: JobId, otherHand: Type.Boolean() },
    'Opens a copy of a kept job, for the other hand where asked',
  ),
  kind('remove job', { id: JobId }, 'Removes a kept job'),
  kind('import job', { file: JobFile }, 'Opens a job from a file'),
  kind(
    'keep set',
    { set: BlockSet },
    'Keeps a block set of the shop’s own; one of that id is written over',
  ),
  kind('remove set', { id: Type.String({ maxLength: 40 }) }, 'Removes a set of the shop’s own'),
  kind('change card', { change: JobCardChange }, 'What is written at the head of the job'),
  kind(
    'sign record',
    {
      who: Type.String({ minLength: 1, maxLength: 120 }),
      role: SignerRole,
      ticked: Type.Array(Type.String({ maxLength: 60 }), {
        maxItems: 40,
        description: 'Codes of the cautions that were ticked',
      }),
    },
    'Signs the job as it stands; its last sweep must have a result',
  ),
  kind(
    'keep shape',
    {
      shape: LineShape,
      over: Type.Boolean({ description: 'Takes the place of one of that name' }),
    },
    'Keeps a line shape of the shop’s own, as a file',
  ),
  kind('remove shape', { name: Type.String({ maxLength: 40 }) }, 'Removes one of the shop’s own'),
  kind(
    'import shape',
    { text: Type.String({ maxLength: 65_536 }), over: Type.Boolean() },
    'Keeps the line shape of a file; what is wrong in it is named by line and field',
  ),
  kind(
    'write note',
    {
      job: JobKey,
      sweep: Nullable(Type.Integer({ minimum: 1, maximum: 1_000_000 })),
      by: Name,
      text: Type.String({ minLength: 1, maxLength: MOST_NOTE }),
    },
    'A note on a kept job or on one of its sweeps; it is added to the record',
  ),
  kind(
    'strike note',
    {
      job: JobKey,
      number: Type.Integer({ minimum: 1, maximum: 1_000_000 }),
      by: Name,
      why: Type.String({ maxLength: MOST_NOTE }),
    },
    'Strikes a note out; it stays and is shown struck out',
  ),
  kind(
    'tag job',
    { job: JobKey, tag: TagText, on: Type.Boolean(), by: Type.String({ maxLength: MOST_NAME }) },
    'Puts a word on a kept job to find it by, or takes it off',
  ),
  kind(
    'bin jobs',
    { jobs: Type.Array(JobKey, { minItems: 1, maxItems: 50 }) },
    'Puts kept jobs into the bin; nothing is deleted',
  ),
  kind(
    'restore jobs',
    { jobs: Type.Array(JobKey, { minItems: 1, maxItems: 50 }) },
    'Takes jobs out of the bin',
  ),
  kind(
    'empty bin',
    {},
    'Deletes what lies in the bin for good; a tombstone of each is left. Signed jobs stay',
  ),
  kind(
    'choose set-up',
    {
      name: Type.String({ pattern: '^[a-z][a-z0-9-]{0,39}$' }),
      plane: Type.Optional(Type.String({ maxLength: 20 })),
      axis: Type.Optional(Type.Union([Type.Literal('x'), Type.Literal('y')])),
    },
    'Another thing to be made true, with its own words; what was read of the one before stays on record',
  ),
  kind('leave set-up', {}, 'No other set-up is read'),
  kind(
    'tell set-up',
    {
      ask: Type.String({ pattern: '^[a-z][a-z0-9-]{0,39}$' }),
      text: Type.String({ maxLength: 40, description: 'As typed; empty: not said' }),
    },
    'Something that a set-up asks beside its readings',
  ),
  kind(
    'take set-up reading',
    { at: Type.String({ minLength: 1, maxLength: 40 }), keyed: Type.Optional(Keyed), ...typing },
    'A reading at a place of the set-up, typed or the one the indicator shows',
  ),
  kind('take back set-up reading', {}, 'Strikes out the last reading of the set-up'),
  kind('take sweep for set-up', {}, 'Takes the points of the sweep that ended last'),
  kind(
    'turn set-up round',
    {},
    'From here on the tool is turned end for end, or is as it was at first',
  ),
  kind('keep set-up', {}, 'Keeps the result in the record of the job'),
  kind(
    'aim by part',
    { stack: Type.Union([Type.Literal('left'), Type.Literal('right')]) },
    'The next bar in the vise is to show the slope that takes out what the part is off',
  ),
  kind('new job', {}, 'Closes this job, keeps nudges, setup and devices'),
  kind('clear fault', { code: Type.String({ maxLength: 60 }) }, 'The user has read it'),
  kind('demo', { do: DemoAct }, 'Simulated bench only'),
  kind(
    'keep setting',
    { name: Type.String({ maxLength: 40 }), text: Type.String({ maxLength: 256 }) },
    'Bench screen only: writes one setting into the settings file, empty takes it out; holds from the next start on',
  ),
  kind('new pairing code', {}, 'Bench screen only: the old code no longer pairs'),
  kind('revoke tablet', { id: Type.String({ maxLength: 80 }) }, 'Bench screen only'),
]);
export type Command = Type.Static<typeof Command>;
export type CommandKind = Command['kind'];

export const Answer = Type.Union([
  Type.Object(
    {
      ok: Type.Literal(true),
      note: Type.String({ description: 'What was done, where that is worth a word; may be empty' }),
    },
    closed,
  ),
  Type.Object({ ok: Type.Literal(false), fault: Fault }, closed),
]);
export type Answer = Type.Static<typeof Answer>;
