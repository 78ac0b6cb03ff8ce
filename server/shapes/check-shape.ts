import { checkerOf, type Fault, LineShape, type ShapeSample } from '@taptrue/protocol';
import { makeFrameCutter } from './cut-frames.ts';
import { decodeFrame } from './decode-frame.ts';
import { escapeControls } from './escape-controls.ts';

export type ShapeCheck = { ok: true; shape: LineShape } | { ok: false; faults: Fault[] };

const lineShape = checkerOf(LineShape);

/**
 * Checks a shape from the table or from a file: first its form, then whether its fields belong together,
 * then its own samples as a self-test. Every fault names the field that is wrong.
 */
export function checkShape(candidate: unknown): ShapeCheck {
  const form = lineShape.check(candidate);
  if (!form.ok) {
    return {
      ok: false,
      faults: [shapeFault(`The line shape has a wrong field: ${form.why}.`, '')],
    };
  }
  const shape = form.value;
  const faults = [...fieldsFaults(shape), ...framingFaults(shape)];
  if (faults.length === 0) {
    shape.samples.forEach((sample, index) => {
      const why = sampleFails(sample, shape);
      if (why !== null) {
        const where = `samples[${index}] of the line shape "${shape.name}"`;
        faults.push(shapeFault(`${where} fails: ${why}.`, escapeControls(sample.frame)));
      }
    });
  }
  return faults.length === 0 ? { ok: true, shape } : { ok: false, faults };
}

function fieldsFaults(shape: LineShape): Fault[] {
  const count = (kind: string) => shape.fields.filter((field) => field.kind === kind).length;
  const faults: Fault[] = [];
  const digits = shape.fields.findIndex((field) => field.kind === 'digits');
  const say = (what: string) =>
    faults.push(shapeFault(`The line shape "${shape.name}" cannot be used: ${what}.`, ''));
  if (count('digits') !== 1) say('fields must hold digits exactly once');
  for (const kind of ['sign', 'unit', 'status', 'channel', 'point']) {
    if (count(kind) > 1) say(`fields must hold ${kind} at most once`);
  }
  const field = shape.fields[digits];
  if (field?.kind === 'digits') {
    if (field.atLeast > field.atMost) say(`fields[${digits}].atLeast is above its atMost`);
    const wantsPoint = field.point.kind === 'given by point field';
    if (wantsPoint !== (count('point') === 1)) {
      say(`fields[${digits}].point and the point field must come together`);
    }
  }
  shape.fields.forEach((one, index) => {
    if (one.kind === 'counter' && one.atLeast > one.atMost) {
      say(`fields[${index}].atLeast is above its atMost`);
    }
    if ('map' in one && Object.keys(one.map).length === 0) say(`fields[${index}].map is empty`);
  });
  if (shape.trigger === 'asked' && shape.request === null) {
    say('request is missing, and the device sends only when asked');
  }
  return faults;
}

function framingFaults(shape: LineShape): Fault[] {
  const { start, fixedBytes, terminator, longestBytes } = shape.framing;
  if (fixedBytes === undefined) return [];
  const ending = terminator === 'any newline' ? 1 : terminator.length;
  const say = (what: string) => [
    shapeFault(`The line shape "${shape.name}" cannot be used: ${what}.`, ''),
  ];
  if (start === undefined) return say('framing.fixedBytes needs framing.start');
  if (1 + fixedBytes + ending > longestBytes) {
    return say('framing.longestBytes is shorter than one frame');
  }
  return [];
}

function sampleFails(sample: ShapeSample, shape: LineShape): string | null {
  const cutter = makeFrameCutter(shape.framing, 'between frames');
  const cuts = cutter.feed(Buffer.from(sample.frame, 'latin1'));
  const [cut] = cuts;
  if (cuts.length !== 1 || cut?.kind !== 'frame' || cutter.heldBytes > 0) {
    return 'framing does not cut it into exactly one whole frame';
  }
  const decoded = decodeFrame(cut.body, shape);
  if (decoded.kind === 'invalid') return decoded.why;
  for (const part of ['value', 'unit', 'status', 'channel'] as const) {
    if (decoded[part] !== sample[part]) return differs(part, decoded[part], sample[part]);
  }
  if (sample.decimals !== undefined && decoded.decimals !== sample.decimals) {
    return differs('decimals', decoded.decimals, sample.decimals);
  }
  return null;
}

function differs(part: string, read: unknown, expected: unknown): string {
  return `${part} is read as ${JSON.stringify(read)}, the sample says ${JSON.stringify(expected)}`;
}

function shapeFault(what: string, got: string): Fault {
  return {
    code: 'shape-not-usable',
    what,
    got,
    remedy: 'Correct the named field, or choose another line shape.',
  };
}
