import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import { Fault } from '../faults/fault.ts';
import { RecordEntry, type RecordEntryOf } from './record.ts';

/** Name and version of the format: what a reader looks at first. */
export const RECORDING_FORMAT = 'taptrue recording';
/** Changes when an older reader would misunderstand a newer writer. */
export const RECORDING_VERSION = 1;

/** What every number of a recording is measured in; said once, in the file itself. */
export const RECORDING_UNITS =
  'A name ends in its unit: Mm millimetres, Ms milliseconds of a monotonic clock, Arcsec seconds of arc, Rad radians; ' +
  'a slope is a plain ratio. x rises to the operator’s right, across positive away from the operator, ' +
  'angles positive counter-clockwise seen from above. null: not known, never zero.';

/**
 * First line of a recording. It follows from the job's first entry alone, so that a recording that was taken
 * in elsewhere and is given out again is the same, byte for byte.
 */
export const RecordingHeader = Type.Object(
  {
    format: Type.Literal(RECORDING_FORMAT),
    formatVersion: Type.Literal(RECORDING_VERSION),
    program: Type.String({
      maxLength: 40,
      description: 'Version of the program that began the job',
    }),
    job: Type.String({ pattern: '^[A-Za-z0-9-]{1,80}$', description: 'Names the job everywhere' }),
    bench: Type.String({ maxLength: 200 }),
    units: Type.Literal(RECORDING_UNITS),
  },
  { ...closed, description: 'First line of a recording' },
);
export type RecordingHeader = Type.Static<typeof RecordingHeader>;

/** Last line: what was cut off or changed in a single bit does not fit it. */
export const RecordingEnd = Type.Object(
  {
    end: Type.Literal(RECORDING_FORMAT),
    lines: Type.Integer({ minimum: 2, description: 'Lines before this one, the header included' }),
    sha256: Type.String({
      pattern: '^[0-9a-f]{64}$',
      description: 'SHA-256 over all bytes before this line, line ends included, in hexadecimal',
    }),
  },
  { ...closed, description: 'Last line of a recording' },
);
export type RecordingEnd = Type.Static<typeof RecordingEnd>;

/** What became of one recording of a file that was to be taken in. */
export const ImportedRecording = Type.Object(
  {
    job: Nullable(Type.String({ description: 'Key; null: not even that could be read' })),
    number: Nullable(Type.Integer()),
    bench: Nullable(Type.String()),
    outcome: Type.Union([
      Type.Literal('taken in'),
      Type.Literal('gone on with'),
      Type.Literal('here already'),
      Type.Literal('refused'),
    ]),
    entries: Type.Integer({ minimum: 0 }),
    line: Nullable(Type.Integer({ description: 'Line of the file; null: none in particular' })),
    fault: Nullable(Fault),
    differences: Type.Integer({
      minimum: 0,
      description: 'What comes out otherwise than recorded, where another version recorded it',
    }),
  },
  closed,
);
export type ImportedRecording = Type.Static<typeof ImportedRecording>;

export const ImportAnswer = Type.Object({ imported: Type.Array(ImportedRecording) }, closed);
export type ImportAnswer = Type.Static<typeof ImportAnswer>;

/** The header of a job's recording. */
export function recordingHeader(opened: RecordEntryOf<'opened'>): RecordingHeader {
  return {
    format: RECORDING_FORMAT,
    formatVersion: RECORDING_VERSION,
    program: opened.version,
    job: opened.start.key,
    bench: opened.bench,
    units: RECORDING_UNITS,
  };
}

/** JSON Schema of one line of a recording, as it lies in `recording.schema.json` for whoever reads it elsewhere. */
export function recordingSchema(): Record<string, unknown> {
  const line = Type.Union([RecordingHeader, ...RecordEntry.anyOf, RecordingEnd]);
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: `${RECORDING_FORMAT} ${RECORDING_VERSION}`,
    description:
      'Each line of a recording is one JSON object of this schema, in UTF-8, ended by a line feed: a header, ' +
      'the entries of one job from "opened" on, an end line. Several recordings may follow one another in a file.',
    ...(JSON.parse(JSON.stringify(line)) as Record<string, unknown>),
  };
}
