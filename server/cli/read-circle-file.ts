import { type LengthUnit, parseLengthMm } from '@taptrue/protocol';
import type { CirclePoint } from '../set-ups/circle/fit-circle.ts';
import { Refusal } from './command.ts';
import { type Column, MOST_ROWS, readLengthMm, readNumber, rowsOf } from './read-sweep-file.ts';

/** Several turns are meant; more is a slip of the column. */
const MOST_DEG = 36_000;

export interface CircleFile {
  points: CirclePoint[];
  /** Unit of the readings; lengths are shown in it. */
  displayUnit: LengthUnit;
  ignored: string[];
}

interface Columns {
  angle: number;
  reading: Column;
  displayUnit: LengthUnit;
  ignored: string[];
}

function readHeader(header: readonly string[]): Columns {
  let angle: number | null = null;
  let reading: Column | null = null;
  let displayUnit: LengthUnit = 'mm';
  const ignored: string[] = [];
  const twice = (name: string) =>
    new Refusal(`The header names ${name} twice. Keep one column of it.`);
  header.forEach((name, index) => {
    const lower = name.toLowerCase();
    const unit = /^reading_(.+)$/.exec(lower)?.[1];
    if (lower === 'angle_deg') {
      if (angle !== null) throw twice('angle_deg');
      angle = index;
    } else if (unit !== undefined) {
      if (reading !== null) throw twice('reading');
      const mmPerUnit = parseLengthMm(`1${unit}`);
      if (!mmPerUnit.ok) {
        throw new Refusal(
          `The unit "${unit}" of column "${name}" is not known here. Use in, thou, mm or um.`,
        );
      }
      reading = { index, name, mmPerUnit: mmPerUnit.value };
      if (/^(in|inch|thou|")$/.test(unit)) displayUnit = 'in';
    } else if (lower === 'angle' || lower === 'reading' || lower.startsWith('angle_')) {
      throw new Refusal(
        `The column "${name}" cannot be read. Call angles angle_deg, readings reading_in or reading_mm.`,
      );
    } else ignored.push(name);
  });
  if (angle === null || reading === null) {
    const missing = angle === null ? 'angle_deg' : 'reading_in or reading_mm';
    throw new Refusal(
      `The header names no column ${missing}. Got: ${header.join(', ')}. A circle wants angle_deg,reading_in or angle_deg,reading_mm.`,
    );
  }
  return { angle, reading, displayUnit, ignored };
}

/** Reads angles and readings from the text of a file. What cannot be read whole is refused, never skipped. */
export function readCircleFile(text: string): CircleFile {
  const [header, ...rows] = rowsOf(text);
  if (!header) {
    throw new Refusal(
      'The file is empty. It wants a header such as angle_deg,reading_in and one row per place.',
    );
  }
  const columns = readHeader(header.record);
  if (rows.length > MOST_ROWS) {
    throw new Refusal(`The file has ${rows.length} rows; at most ${MOST_ROWS} are read.`);
  }
  const points = rows.map((row) => {
    if (row.record.length !== header.record.length) {
      throw new Refusal(
        `Line ${row.info.lines}: cells ${row.record.length}, columns in the header ${header.record.length}. Give every row all of them.`,
      );
    }
    const angleDeg = readNumber(row, columns.angle, 'angle_deg').value;
    if (Math.abs(angleDeg) > MOST_DEG) {
      throw new Refusal(
        `Line ${row.info.lines}, column angle_deg: ${angleDeg} degrees is more than a hundred turns. Check the column.`,
      );
    }
    return { angleDeg, readingMm: readLengthMm(row, columns.reading).value };
  });
  return { points, displayUnit: columns.displayUnit, ignored: columns.ignored };
}
