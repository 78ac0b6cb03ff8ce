import { type Caution, type LengthUnit, type PassName, parseLengthMm } from '@taptrue/protocol';
import { parse } from 'csv-parse/sync';
import type { SweepPass, SweepPoint } from '../measure/verdict/sweep-input.ts';
import { Refusal } from './command.ts';

/** Rows at most: a day of readings at ten a second. */
export const MOST_ROWS = 1_000_000;

/** `position_mm`, `Reading_in`: a quantity and its unit. */
const QUANTITY_COLUMN = /^(position|reading)(?:_(.+))?$/;

/** Digits with one decimal mark; files written by programs also use a power of ten. */
const NUMBER = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e([+-]?\d+))?$/i;

/** Farther than any table travels or any indicator reads, mm: beyond it the sums of the fit lose their digits. */
const FARTHEST_MM = 100_000;

export interface SweepFile {
  /** One pass, or two where the file tells out from back. Points in the order of the file. */
  passes: SweepPass[];
  /** Unit of the readings; lengths are shown in it. */
  displayUnit: LengthUnit;
  /** One unit in the last decimal written among the readings, mm. */
  lastDigitMm: number;
  cautions: Caution[];
}

export interface Column {
  index: number;
  /** As the file names it. */
  name: string;
  mmPerUnit: number;
}

interface Columns {
  position: Column;
  reading: Column;
  pass: number | null;
  time: number | null;
  ignored: string[];
  displayUnit: LengthUnit;
}

export interface Row {
  record: string[];
  info: { lines: number };
}

/** Semicolons and tabs as separators come with decimal commas; the header tells which is meant. */
function separatorOf(text: string): string {
  const header = text.slice(0, Math.max(0, text.search(/[\r\n]|$/)));
  return [';', '\t'].find((separator) => header.includes(separator)) ?? ',';
}

/** A workbook of a spreadsheet has zero bytes near its beginning; text has none. */
function refuseWhatIsNoText(text: string): void {
  if (text.slice(0, 4096).includes('\0'))
    throw new Refusal(
      'The file is not text, perhaps a workbook of a spreadsheet. Save it there as CSV, comma-separated, and give that file.',
    );
}

export function rowsOf(text: string): Row[] {
  refuseWhatIsNoText(text);
  try {
    return parse(text, {
      bom: true,
      delimiter: separatorOf(text),
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as Row[];
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new Refusal(`The file is not comma-separated text: ${why}. Write one row a line.`);
  }
}

function readHeader(header: string[]): Columns {
  const quantities = new Map<string, Column>();
  const places = new Map<string, number>();
  const ignored: string[] = [];
  const twice = (name: string) =>
    new Refusal(`The header names ${name} twice. Keep one column of it.`);
  let displayUnit: LengthUnit = 'mm';
  header.forEach((name, index) => {
    const lower = name.toLowerCase();
    const match = QUANTITY_COLUMN.exec(lower);
    if (match) {
      const [, quantity, unit] = match;
      if (quantities.has(quantity!)) throw twice(quantity!);
      if (unit === undefined) {
        throw new Refusal(
          `The column "${name}" has no unit. Call it ${quantity}_in or ${quantity}_mm.`,
        );
      }
      const mmPerUnit = parseLengthMm(`1${unit}`);
      if (!mmPerUnit.ok) {
        throw new Refusal(
          `The unit "${unit}" of column "${name}" is not known here. Use in, thou, mm or um.`,
        );
      }
      quantities.set(quantity!, { index, name, mmPerUnit: mmPerUnit.value });
      if (quantity === 'reading' && /^(in|inch|thou|")$/.test(unit)) displayUnit = 'in';
      return;
    }
    if (lower === 'pass' || lower === 'time_s') {
      if (places.has(lower)) throw twice(lower);
      places.set(lower, index);
    } else ignored.push(name);
  });
  const need = (quantity: string): Column => {
    const column = quantities.get(quantity);
    if (column) return column;
    throw new Refusal(
      `The header names no ${quantity} column. Got: ${header.join(', ')}. It wants ${quantity}_in or ${quantity}_mm.`,
    );
  };
  return {
    position: need('position'),
    reading: need('reading'),
    pass: places.get('pass') ?? null,
    time: places.get('time_s') ?? null,
    ignored,
    displayUnit,
  };
}

interface Cell {
  value: number;
  /** Decimals as written, the power of ten taken into account. */
  decimals: number;
}

/** A cell as a length; one that no machine could have is a slip of the unit or of the decimal mark. */
export function readLengthMm(row: Row, column: Column): Cell {
  const { value, decimals } = readNumber(row, column.index, column.name);
  const mm = value * column.mmPerUnit;
  if (Math.abs(mm) <= FARTHEST_MM) return { value: mm, decimals };
  throw new Refusal(
    `Line ${row.info.lines}, column ${column.name}: "${row.record[column.index]}" is farther than ${FARTHEST_MM / 1000} m. Check the number and the unit of the column.`,
  );
}

export function readNumber(row: Row, index: number, name: string): Cell {
  const text = row.record[index] ?? '';
  const where = `Line ${row.info.lines}, column ${name}`;
  if (text === '') throw new Refusal(`${where}: the cell is empty. Fill it or strike the row out.`);
  const match = NUMBER.exec(text.replace('−', '-'));
  const value = match ? Number(match[0].replace(',', '.')) : Number.NaN;
  if (!match || !Number.isFinite(value)) {
    throw new Refusal(`${where}: "${text}" is not a number. Correct it or strike the row out.`);
  }
  const mantissa = match[0].split(/e/i)[0]!;
  const written = mantissa.split(/[.,]/)[1]?.length ?? 0;
  return { value, decimals: written - Number(match[1] ?? 0) };
}

function readPass(row: Row, index: number): PassName {
  const text = (row.record[index] ?? '').toLowerCase();
  if (text === 'out' || text === 'back') return text;
  throw new Refusal(`Line ${row.info.lines}, column pass: "${text}" is neither out nor back.`);
}

/** Reads positions and readings from the text of a file. What cannot be read whole is refused, never skipped. */
export function readSweepFile(text: string): SweepFile {
  const [header, ...rows] = rowsOf(text);
  if (!header) {
    throw new Refusal(
      'The file is empty. It wants a header such as position_in,reading_in and one row per point.',
    );
  }
  const columns = readHeader(header.record);
  if (rows.length > MOST_ROWS) {
    throw new Refusal(`The file has ${rows.length} rows; at most ${MOST_ROWS} are read.`);
  }
  const points: Record<PassName, SweepPoint[]> = { out: [], back: [] };
  let decimals = Number.NEGATIVE_INFINITY;
  for (const row of rows) {
    if (row.record.length !== header.record.length) {
      throw new Refusal(
        `Line ${row.info.lines}: cells ${row.record.length}, columns in the header ${header.record.length}. Give every row all of them.`,
      );
    }
    const position = readLengthMm(row, columns.position);
    const reading = readLengthMm(row, columns.reading);
    if (columns.time !== null) readNumber(row, columns.time, 'time_s');
    const pass = columns.pass === null ? 'out' : readPass(row, columns.pass);
    decimals = Math.max(decimals, reading.decimals);
    points[pass].push({ xMm: position.value, readingMm: reading.value });
  }
  return {
    passes: (['out', 'back'] as const)
      .filter((pass) => points[pass].length > 0)
      .map((pass) => ({ pass, points: points[pass] })),
    displayUnit: columns.displayUnit,
    lastDigitMm: 10 ** -decimals * columns.reading.mmPerUnit,
    cautions: columns.ignored.map((name) => ({
      code: 'column-ignored',
      text: `The column "${name}" is not used.`,
    })),
  };
}
