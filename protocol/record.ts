import Type from 'typebox';
import { TapStep } from './bench-state.ts';
import { Answer, Command } from './commands.ts';
import { Fault } from './fault.ts';
import { LinkName, LinkReport } from './link.ts';
import { Reading } from './reading.ts';
import { closed } from './schema-parts.ts';
import { Setup, Stage } from './setup.ts';
import { PassName, SweepResult } from './sweep-result.ts';

const entry = <K extends string, P extends Type.TProperties>(name: K, properties: P) =>
  Type.Object(
    {
      entry: Type.Literal(name),
      atMs: Type.Number({ description: 'Monotonic clock of the service' }),
      ...properties,
    },
    closed,
  );

/**
 * One line of the record (newline-delimited JSON). The record keeps every reading and is only added to;
 * the display may skip.
 */
export const RecordEntry = Type.Union([
  entry('opened', {
    version: Type.String(),
    wallClock: Type.String(),
    simulated: Type.Boolean(),
    job: Type.Integer(),
    setup: Setup,
    stage: Stage,
  }),
  entry('command', { command: Command, answer: Answer }),
  entry('reading', { link: LinkName, reading: Reading }),
  entry('link', { link: LinkName, state: LinkReport.properties.state }),
  entry('station', {
    sweep: Type.Integer(),
    xMm: Type.Number(),
    readingMm: Type.Number(),
    pass: PassName,
  }),
  entry('tap step', { sweep: Type.Integer(), step: TapStep }),
  entry('sweep ended', {
    sweep: Type.Integer(),
    stage: Stage,
    simulated: Type.Boolean(),
    result: Type.Union([SweepResult, Type.Null()]),
  }),
  entry('fault', { from: Type.String(), fault: Fault }),
]);
export type RecordEntry = Type.Static<typeof RecordEntry>;
