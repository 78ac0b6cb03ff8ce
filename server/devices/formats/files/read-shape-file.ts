import { checkerOf, type Fault, type LineShape, ShapeFile } from '@taptrue/protocol';
import { findingsOf } from '../check-shape.ts';
import { jsonPlaces, lineAndColumn } from './json-places.ts';

/** A shape with all its samples takes some ten thousand characters; more is not one. */
export const LARGEST_SHAPE_FILE = 65_536;

/** One thing wrong in a shape file. */
export interface FileFinding {
  /** From 1. */
  line: number;
  column: number;
  /** `fields[3].map`, `samples[1]`; empty where the text is no JSON. */
  field: string;
  why: string;
  got: string;
}

export type ReadShape = { ok: true; shape: LineShape } | { ok: false; findings: FileFinding[] };

const shapeFile = checkerOf(ShapeFile);

/**
 * A line shape from the text of its file: JSON, then its form, then whether its fields belong together, then
 * its own samples. Bounded work: the size, the nesting and the number of values are limited before anything is
 * understood.
 */
export function readShapeFile(text: string): ReadShape {
  if (text.length > LARGEST_SHAPE_FILE) {
    return refuse({
      line: 1,
      column: 1,
      field: '',
      why: `it is larger than any line shape (${text.length} characters, at most ${LARGEST_SHAPE_FILE})`,
      got: '',
    });
  }
  const scanned = jsonPlaces(text);
  if (!scanned.ok) {
    const place = lineAndColumn(text, scanned.at);
    return refuse({
      ...place,
      field: '',
      why: scanned.why,
      got: text.slice(scanned.at).split('\n', 1)[0]!.slice(0, 40),
    });
  }
  const at = (path: string) => lineAndColumn(text, placeOf(path, scanned.places));
  const form = shapeFile.parse(text);
  if (!form.ok) {
    const path = /^\/\S*/.exec(form.why)?.[0] ?? '';
    const why = form.why.slice(path.length).trim().replace('the message', 'the file');
    return refuse({ ...at(path), field: fieldOf(path), why, got: '' });
  }
  const { shape } = form.value;
  const findings = findingsOf(shape).map(({ place, why, got }) => ({
    ...at(`/shape/${place.replaceAll('[', '/').replaceAll(']', '').replaceAll('.', '/')}`),
    field: place,
    why,
    got,
  }));
  return findings.length === 0 ? { ok: true, shape } : { ok: false, findings };
}

function refuse(finding: FileFinding): ReadShape {
  return { ok: false, findings: [finding] };
}

/** Where the value of this path begins, or the nearest one around it that is there. */
function placeOf(path: string, places: ReadonlyMap<string, number>): number {
  let around = path;
  while (around !== '' && !places.has(around)) around = around.slice(0, around.lastIndexOf('/'));
  return places.get(around) ?? 0;
}

/** `/shape/fields/3/map` as `fields[3].map`. */
function fieldOf(path: string): string {
  return path
    .replace(/^\/shape(?=\/|$)/, '')
    .replace(/\/(\d+)(?=\/|$)/g, '[$1]')
    .replaceAll('/', '.')
    .replace(/^\./, '');
}

/** What is wrong with a shape file, as a fault that names file, line and field. */
export function shapeFileFault(file: string, findings: readonly FileFinding[]): Fault {
  const [first] = findings;
  const more = findings.length > 1 ? ` And ${findings.length - 1} more.` : '';
  const place = first === undefined ? '' : `line ${first.line}, column ${first.column}`;
  const field = first?.field ? `, ${first.field}` : '';
  return {
    code: 'shape-file-not-read',
    what: `The line shape file ${file} cannot be used: ${place}${field}: ${first?.why ?? 'it is empty'}.${more}`,
    got: first?.got ?? '',
    remedy: 'Correct that line with a text editor, or take the file out of the shapes folder.',
  };
}
