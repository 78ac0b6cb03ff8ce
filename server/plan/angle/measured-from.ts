import type { AngleKind, MeasuredFrom, WrittenAngle } from '@taptrue/protocol';
import { type Planned, refuse } from '../plan-fault.ts';
import { dmsText } from './echo-angle.ts';
import { readAngleText, readWrittenAngle } from './read-angle.ts';

/** Seconds of arc in a right angle. */
const RIGHT = 90 * 3600;

/** The angle of the jaw, seconds of arc, 0 to 90 degrees, and what of the print it comes from. */
export interface MeasuredAngle {
  setArcsec: number;
  written: WrittenAngle;
}

interface Turned {
  setArcsec: number;
  from: string;
  /** How the angle set comes out of the one written; empty: it is the same. */
  how: string;
}

/**
 * From the angle written to the angle of the jaw. The line along the jaw is where the jaw is turned from; sums
 * and differences of whole seconds of arc stay whole.
 */
export function readMeasuredAngle(
  text: string,
  kind: AngleKind,
  from: MeasuredFrom,
): Planned<MeasuredAngle> {
  const read = readWrittenAngle(text, kind);
  if (!read.ok) return read;
  const { arcsec } = read.value;
  // Said twice, by the words and by the picture, it is still halved once.
  const isWhole = read.value.isWhole || from.line.startsWith('centreline');
  if (arcsec > 2 * RIGHT)
    return refuse(
      'angle',
      'angle-over-90',
      'The angle is over 180 degrees.',
      `"${text}"`,
      'Give the smaller angle between the two lines of the print.',
    );
  const turned = turn(isWhole ? arcsec / 2 : arcsec, isWhole, from, text);
  if (!turned.ok) return turned;
  const { setArcsec, from: line, how } = turned.value;
  if (setArcsec > RIGHT) {
    return refuse(
      'angle',
      'angle-over-90',
      'The angle is over 90 degrees.',
      setArcsec === arcsec ? `"${text}"` : `"${text}" from ${line}: ${dmsText(setArcsec)} to set`,
      'Give the acute angle from the other line of the print, and the other hand.',
    );
  }
  return {
    ok: true,
    value: {
      setArcsec,
      written: {
        arcsec,
        dmsText: dmsText(arcsec),
        from: line,
        isWhole,
        isTurned: how !== '',
        sentence:
          how === ''
            ? `Angle as written, ${dmsText(arcsec)} from ${line}: set as written.`
            : `Angle as written, ${dmsText(arcsec)} ${isWhole ? 'in all, about' : 'from'} ${line}: set ${dmsText(setArcsec)}, ${how}.`,
      },
    },
  };
}

function turn(
  sideArcsec: number,
  isWhole: boolean,
  from: MeasuredFrom,
  text: string,
): Planned<Turned> {
  const half = isWhole ? 'half of it' : '';
  switch (from.line) {
    case 'along the jaw':
    case 'centreline along the jaw':
      return done(
        sideArcsec,
        isWhole ? 'a centreline along the jaw' : 'the line along the jaw',
        half,
      );
    case 'square to the jaw':
    case 'centreline square to the jaw':
      return done(
        Math.abs(RIGHT - sideArcsec),
        isWhole ? 'a centreline square to the jaw' : 'the line square to the jaw',
        sideArcsec > RIGHT ? 'what it has over 90°' : `90° less ${half || 'it'}`,
      );
    case 'another edge':
      return fromEdge(sideArcsec, half || 'it', from, text);
  }
}

function fromEdge(
  sideArcsec: number,
  it: string,
  from: Extract<MeasuredFrom, { line: 'another edge' }>,
  text: string,
): Planned<Turned> {
  const edge = readAngleText('angle of the edge', from.edgeAngle);
  if (!edge.ok) return edge;
  const edgeText = dmsText(edge.value);
  if (edge.value > RIGHT)
    return refuse(
      'angle of the edge',
      'angle-over-90',
      'The angle of the edge is over 90 degrees.',
      `"${from.edgeAngle}"`,
      'Give the acute angle between that edge and the jaw.',
    );
  const line = `the edge at ${edgeText} to the jaw`;
  if (from.cut === 'beyond the edge')
    return done(edge.value + sideArcsec, line, `the edge’s ${edgeText} and ${it} together`);
  const isShort = from.cut === 'short of the edge';
  const setArcsec = isShort ? edge.value - sideArcsec : sideArcsec - edge.value;
  if (setArcsec < 0)
    return refuse(
      'angle of the edge',
      'edge-and-cut-crossed',
      isShort
        ? 'The angle written is larger than that of the edge: the cut lies on the other side of the jaw’s line.'
        : 'The angle written is smaller than that of the edge: the cut does not reach the jaw’s line.',
      `"${text}" from an edge at "${from.edgeAngle}"`,
      isShort
        ? 'Choose the picture with the cut across the jaw’s line.'
        : 'Choose the picture with the cut short of the edge.',
    );
  return done(
    setArcsec,
    line,
    isShort ? `the edge’s ${edgeText} less ${it}` : `${it} less the edge’s ${edgeText}`,
  );
}

function done(setArcsec: number, from: string, how: string): Planned<Turned> {
  return { ok: true, value: { setArcsec, from, how } };
}
