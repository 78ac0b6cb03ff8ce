import type {
  LineShape,
  ShapeSample,
  TaughtLine,
  TeachAnswer,
  TeachQuestion,
} from '@taptrue/protocol';
import { findingsOf } from '../check-shape.ts';
import { decodeAxes, type WholeReading } from '../decode-frame.ts';
import { fromHalfBytes, halfBytes } from '../half-bytes.ts';
import { onlyFrame } from '../try-sample.ts';
import { alignSpans, segmentsOf, withSigns } from './align-spans.ts';
import { type BuiltFields, buildFields } from './build-fields.ts';
import { type Captured, cutCaptured } from './cut-captured.ts';
import { guessMarks } from './guess-marks.ts';
import { findChecksum, guessPackedMarks } from './guess-packed-marks.ts';
import { sayReadings } from './say-reading.ts';
import { decimalsSaid, differsFromScreen } from './screen-said.ts';
import { shapeNameFrom } from './shape-name.ts';

type Packed = NonNullable<LineShape['packed']>;

const PACKED: Packed = 'high nibble first';
/** Fewer prove nothing: two lines can agree by chance in what is not the same. */
const LEAST_SAMPLES = 3;
const USUAL_PORT = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 } as const;
const ASKED_EVERY_MS = 200;

interface LineTried {
  line: TaughtLine;
  frame: string;
  readings: readonly WholeReading[] | null;
}

/**
 * Builds a line shape from captured lines and marks, or guesses the marks, and says of every line what would be
 * read. Pure; work is bounded by the lengths the question allows. `shape` is null until nothing is wanting and every
 * line is understood.
 */
export function teachShape(question: TeachQuestion): TeachAnswer {
  const cut = cutCaptured(question);
  const whole = new Map(question.wholeLines.map(({ text, means }) => [text, means]));
  if (!cut.ok) {
    return { lines: [], marks: [], texts: [], needs: [cut.why], frameBytes: null, shape: null };
  }
  const { captured } = cut;
  const isPacked = question.form === 'bytes';
  const textsAs = (packed: Packed) =>
    isPacked ? captured.bodies.map((body) => halfBytes(body, packed)) : captured.bodies;
  const plain = textsAs(PACKED);
  const on = Math.min(question.line, plain.length - 1);
  const pattern = plain[on] ?? '';
  const sum = isPacked
    ? findChecksum(plain, captured.framing.start ?? '', (halves) => fromHalfBytes(halves, PACKED))
    : null;
  // The guess is made on the line that the marks are shown on.
  const others = plain.filter((text, index) => index !== on && !whole.has(text));
  const ordered = [pattern, ...others];
  const guessed = () => (isPacked ? guessPackedMarks(ordered, sum) : guessMarks(ordered));
  const told = question.marks ?? guessed();
  const marks = isPacked ? told : withSigns(pattern, told);
  const attempt = ({ packed, negative }: Way) => {
    const texts = textsAs(packed);
    const segments = segmentsOf(texts[on] ?? '', marks);
    const aligned = texts.flatMap((text) => (whole.has(text) ? [] : [alignSpans(segments, text)]));
    const seen = segments.map((_, index) =>
      aligned.flatMap((spans) => (spans[index] === undefined ? [] : [spans[index]])),
    );
    const built = buildFields({
      segments,
      seen,
      question,
      checksum: sum,
      decimalsSaid: decimalsSaid(question.screenSaid),
      negative,
    });
    const drafted = draft(question, { captured, packed }, built);
    return { built, packed, tried: tryLines(drafted, { captured, texts, question }) };
  };
  const ways = waysOf(question, marks);
  let best = attempt(ways[0]!);
  for (const way of ways.slice(1)) {
    if (best.tried.every(({ line }) => line.why === '')) break;
    const other = attempt(way);
    if (other.tried.every(({ line }) => line.why === '')) best = other;
  }
  return answerOf(question, { captured, marks, ...best });
}

/** What bytes alone do not tell; the first way in which every line is understood, as the screen said it, is taken. */
interface Way {
  packed: Packed;
  negative: 'twos complement' | 'top bit';
}

function waysOf({ form, number }: TeachQuestion, marks: TeachAnswer['marks']): Way[] {
  const usual: Way = { packed: PACKED, negative: 'twos complement' };
  if (number.kind === 'count') return [usual, { ...usual, negative: 'top bit' }];
  // The half bytes of a byte change places: marks stay where they are only if they take whole bytes.
  const ofBytes = marks.every(({ from, to }) => from % 2 === 0 && to % 2 === 0);
  if (form === 'lines' || !number.lowestFirst || !ofBytes) return [usual];
  return [usual, { ...usual, packed: 'low nibble first' }];
}

/** The shape as far as it goes; its samples are put in once every line is understood. */
function draft(
  question: TeachQuestion,
  { captured, packed }: { captured: Captured; packed: Packed },
  { fields }: BuiltFields,
): LineShape {
  const { trigger, request, wholeLines } = question;
  const skip = wholeLines.flatMap(({ text, means }) => (means === 'passed over' ? [text] : []));
  return {
    name: question.name || shapeNameFrom(question.title) || 'being-taught',
    title: question.title || 'Being taught',
    framing: { ...captured.framing, ...(skip.length === 0 ? {} : { skip }) },
    ...(question.form === 'bytes' ? { packed } : {}),
    fields,
    specials: wholeLines.flatMap(({ text, means }) =>
      means === 'passed over' ? [] : [{ text, status: means }],
    ),
    trigger,
    request:
      trigger === 'asked' && request !== null ? { text: request, everyMs: ASKED_EVERY_MS } : null,
    signals: { dtr: true, rts: true },
    port: question.port ?? USUAL_PORT,
    samples: [],
  };
}

function tryLines(
  shape: LineShape,
  from: { captured: Captured; texts: readonly string[]; question: TeachQuestion },
): LineTried[] {
  return from.captured.frames.map((frame, index) => {
    const text = from.texts[index] ?? '';
    const body = from.captured.bodies[index] ?? '';
    if (shape.framing.skip?.includes(body)) {
      return { frame, readings: null, line: { text, reads: 'passed over', why: '', at: null } };
    }
    const decoded = decodeAxes(body, shape);
    if (decoded.kind === 'invalid') {
      return { frame, readings: null, line: { text, reads: '', why: decoded.why, at: decoded.at } };
    }
    const { readings } = decoded;
    const said = from.question.screenSaid[index] ?? '';
    const why = differsFromScreen(readings, said) ?? '';
    return { frame, readings, line: { text, reads: sayReadings(readings), why, at: null } };
  });
}

function answerOf(
  question: TeachQuestion,
  {
    captured,
    packed,
    marks,
    built,
    tried,
  }: {
    captured: Captured;
    packed: Packed;
    marks: TeachAnswer['marks'];
    built: BuiltFields;
    tried: LineTried[];
  },
): TeachAnswer {
  const samples = tried.flatMap(({ frame, readings }) =>
    readings ? [sampleOf(frame, readings)] : [],
  );
  const shape = { ...draft(question, { captured, packed }, built), samples };
  const needs = [...new Set(built.needs)];
  const failing = tried.filter(({ line }) => line.why !== '').length;
  if (failing > 0 && needs.length === 0) {
    needs.push(
      `${failing} of ${tried.length} lines ${failing === 1 ? 'is' : 'are'} not understood yet.`,
    );
  }
  if (samples.length < LEAST_SAMPLES && failing === 0)
    needs.push('Three different lines are needed.');
  if (question.trigger === 'asked' && question.request === null) {
    needs.push('Say what the device is asked with.');
  }
  if (needs.length === 0) {
    for (const finding of findingsOf(shape)) needs.push(`${finding.place}: ${finding.why}.`);
    for (const { frame, readings } of tried) {
      if (readings && onlyFrame(frame, shape) === null)
        needs.push('The lines cannot be told apart again.');
    }
  }
  const isNamed = (question.name || shapeNameFrom(question.title)) !== '' && question.title !== '';
  if (needs.length === 0 && !isNamed) needs.push('Give it a name by its form.');
  const { fixedBytes, start = '' } = captured.framing;
  return {
    lines: tried.map(({ line }) => line),
    marks: [...marks],
    texts: built.texts,
    needs: [...new Set(needs)],
    frameBytes: fixedBytes === undefined ? null : fixedBytes + start.length,
    shape: needs.length === 0 ? shape : null,
  };
}

function sampleOf(frame: string, [first, ...others]: readonly WholeReading[]): ShapeSample {
  const plain = ({ kind: _, ...reading }: WholeReading) => reading;
  return {
    frame,
    ...plain(first!),
    ...(others.length === 0 ? {} : { also: others.map(plain) }),
  };
}
