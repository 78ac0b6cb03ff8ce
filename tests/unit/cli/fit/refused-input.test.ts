import { describe, expect, it } from 'vitest';
import { fileWith, fitJson, runFit } from './run-fit.ts';

const GOOD = 'position_mm,reading_mm\n0,0.001\n50,0.002\n100,0.004\n';

describe('a file that is refused', () => {
  it.each<[string, string, RegExp]>([
    ['that is empty', '', /empty/],
    ['with a header and nothing else', 'position_mm,reading_mm\n', /Nothing has been taken/],
    ['with one row', 'position_mm,reading_mm\n0,1\n', /one point/],
    ['with two equal positions only', 'position_mm,reading_mm\n5,1\n5,2\n', /one place/],
    ['without a unit of position', 'position,reading_mm\n0,1\n', /"position" has no unit/],
    ['without a unit of reading', 'position_in,reading\n0,1\n', /"reading" has no unit/],
    ['with a unit not known', 'position_furlong,reading_mm\n0,1\n', /"furlong"/],
    ['without a reading column', 'position_mm,note\n0,1\n', /no reading column/],
    ['without a header', '0,0.001\n50,0.002\n', /no position column/],
    ['with a column twice', 'position_mm,position_in,reading_mm\n0,0,1\n', /position twice/],
    [
      'with a blank cell',
      'position_mm,reading_mm\n0,1\n,2\n',
      /Line 3, column position_mm: the cell is empty/,
    ],
    ['with no number', 'position_mm,reading_mm\n0,1\n1,NaN\n', /Line 3, column reading_mm: "NaN"/],
    [
      'with an endless number',
      'position_mm,reading_mm\n0,1\n1,Infinity\n',
      /Line 3, column reading_mm/,
    ],
    [
      'with a number too large',
      'position_mm,reading_mm\n0,1\n1,1e999\n',
      /Line 3, column reading_mm/,
    ],
    ['with two decimal marks', 'position_mm;reading_mm\n0;1\n1;1,234.5\n', /"1,234.5"/],
    [
      'with a row too short',
      'position_mm,reading_mm\n0,1\n7\n',
      /Line 3: cells 1, columns in the header 2/,
    ],
    [
      'with a decimal comma among commas',
      'position_mm,reading_mm\n0,0,5\n1,1,5\n',
      /Line 2: cells 3, columns in the header 2/,
    ],
    [
      'with a pass not known',
      'position_mm,reading_mm,pass\n0,1,up\n',
      /"up" is neither out nor back/,
    ],
    [
      'with a time that is no number',
      'position_mm,reading_mm,time_s\n0,1,noon\n',
      /column time_s: "noon"/,
    ],
    [
      'with a number beyond any machine',
      'position_mm,reading_mm\n0,1\n1,1e300\n',
      /Line 3, column reading_mm: "1e300" is farther than 100 m/,
    ],
    [
      'with a position beyond any machine',
      'position_in,reading_mm\n0,1\n1e301,1\n',
      /Line 3, column position_in: "1e301" is farther than 100 m/,
    ],
    [
      'with one point in its second pass',
      'position_mm,reading_mm,pass\n0,1,out\n50,2,out\n50,2,back\n',
      /The pass back has one point/,
    ],
    ['with a quote left open', 'position_mm,reading_mm\n0,"1\n', /not comma-separated/],
  ])('%s', async (_name, content, reason) => {
    const { code, out, err } = await runFit(await fileWith(content), '--json');
    expect(err).toMatch(reason);
    expect(code).toBe(3);
    expect(out).toBe('');
  });

  it('that is not there, or is a folder', async () => {
    expect(await runFit('no-such-file.csv')).toMatchObject({
      code: 3,
      err: expect.stringContaining('no such file'),
    });
    expect(await runFit('.')).toMatchObject({
      code: 3,
      err: expect.stringContaining('Cannot read'),
    });
  });

  it('that is a workbook of a spreadsheet, with what to do instead', async () => {
    const zip = Uint8Array.from([0x50, 0x4b, 3, 4, 0x14, 0, 6, 0, 8, 0, 0, 0]);
    const { code, err } = await runFit(await fileWith(zip, 'sweep.xlsx'));
    expect(code).toBe(3);
    expect(err).toContain('Save it there as CSV');
  });

  it('that is bytes of no text', async () => {
    const bytes = Uint8Array.from({ length: 4000 }, (_, i) => (i * 151) % 256);
    expect(await runFit(await fileWith(bytes))).toMatchObject({ code: 3, out: '' });
  });
});

describe('an option that is refused', () => {
  it.each<[string, string[], RegExp]>([
    ['a limit without a unit', ['--limit', '0.001'], /--limit: "0.001" has no unit/],
    ['an angle without a unit', ['--limit-angle', '20'], /--limit-angle: "20" has no unit/],
    ['a negative limit', ['--limit', '-0.001in'], /more than nothing/],
    ['a limit of nothing', ['--limit-angle', '0deg'], /more than nothing/],
    ['two limits', ['--limit', '1mm', '--limit-angle', '20arcsec'], /two limits/],
    ['a length for a limit that is missing', ['--limit-over', '5in'], /--limit is missing/],
    ['a pivot in no unit of length', ['--pivot', '5deg'], /--pivot/],
    ['a stylus standing on end', ['--stylus-angle', '90deg'], /80 degrees/],
    ['a resolution of nothing', ['--resolution', '0mm'], /no count/],
    ['a negative permissible error', ['--permissible-error=-1um'], /negative/],
    ['a sense not known', ['--rises', 'up'], /toward or away/],
    ['an axis not known', ['--axis', 'z'], /x or y/],
    ['a rule not known', ['--decision', 'kind'], /guarded or plain/],
    ['a slope that is no number', ['--target-slope', '1%'], /--target-slope/],
    ['a slope too steep', ['--target-slope', '0.5'], /steeper/],
    ['half a bin', ['--bins', '2.5'], /whole number/],
    ['one bin', ['--bins', '1'], /whole number/],
    ['an option not known', ['--wobble'], /^There is no option --wobble here. Known: --rises, /],
    ['an option without its value', ['--limit'], /^--limit wants a value after it/],
    ['an option in place of a value', ['--pivot', '--json'], /^--pivot wants a value after it/],
    ['a value where none belongs', ['--json=yes'], /^--json takes no value/],
    ['a pivot in the next county', ['--pivot', '101m'], /--pivot: 101m is farther than 100 m/],
    ['a second file', ['other.csv'], /One file/],
    ['a stylus parked at the pivot', ['--pivot', '0mm', '--parked', '5mm'], /too near the pivot/],
    ['a mallet at the pivot', ['--pivot', '50mm', '--mallet', '50mm'], /strike at the pivot/],
  ])('%s', async (_name, args, reason) => {
    const { code, out, err } = await runFit(await fileWith(GOOD), ...args);
    expect(err).toMatch(reason);
    expect(code).toBe(3);
    expect(out).toBe('');
  });

  it('no file at all', async () => {
    expect(await runFit()).toMatchObject({ code: 3, err: expect.stringContaining('Which file?') });
  });
});

describe('a file that is read as it was meant', () => {
  it.each<[string, string]>([
    ['columns the other way round', 'reading_mm,position_mm\n0.001,0\n0.002,50\n0.004,100\n'],
    ['capitals and blanks', ' Position_MM , READING_mm \n 0 , 0.001 \n 50 , 0.002\n100,0.004\n'],
    [
      'a byte order mark and Windows line ends',
      '\uFEFFposition_mm,reading_mm\r\n0,0.001\r\n50,0.002\r\n100,0.004\r\n',
    ],
    [
      'empty lines, and none at the end',
      'position_mm,reading_mm\n\n0,0.001\n50,0.002\n\n100,0.004',
    ],
    ['semicolons and decimal commas', 'position_mm;reading_mm\n0;0,001\n50,0;,002\n100;+0,004\n'],
    ['powers of ten', 'position_mm,reading_mm\n0,1e-3\n5e1,2E-03\n1.0e+2,4e-3\n'],
    ['micrometres with the Greek letter', 'position_mm,reading_\u03bcm\n0,1\n50,2\n100,4\n'],
    ['micrometres', 'position_mm,reading_um\n0,1\n50,2\n100,4\n'],
    ['quoted cells', '"position_mm","reading_mm"\n"0","0.001"\n"50","0.002"\n"100","0.004"\n'],
    [
      'passes of one direction and times',
      'time_s,pass,position_mm,reading_mm\n0,OUT,0,0.001\n1.5,out,50,0.002\n3,Out,100,0.004\n',
    ],
  ])('%s', async (_name, content) => {
    const expected = await fitJson(GOOD);
    const result = await fitJson(content);
    expect(result.slope).toBeCloseTo(expected.slope, 12);
    expect(result.interceptMm).toBeCloseTo(expected.interceptMm, 12);
    expect(result.points).toBe(3);
  });

  it.each(['utf-16le', 'utf-16be'] as const)('%s, as a Windows shell writes it', async (form) => {
    const bytes = Buffer.from(`\uFEFF${GOOD}`, 'utf16le');
    const file = await fileWith(form === 'utf-16le' ? bytes : bytes.swap16());
    const { code, out } = await runFit(file, '--json');
    expect(code).toBe(0);
    expect(JSON.parse(out).slope).toBe((await fitJson(GOOD)).slope);
  });

  it('inches, thousandths and millimetres, mixed', async () => {
    const inches = await fitJson('position_in,reading_in\n0,0\n5,0.001\n2,0.0003\n');
    const mixed = await fitJson('position_mm,reading_thou\n0,0\n127,1\n50.8,0.3\n');
    expect(mixed.slope).toBeCloseTo(inches.slope, 12);
    expect(inches.lengthMm).toBeCloseTo(127, 12);
  });

  it('positions out of order and a column that is not used, with a caution', async () => {
    const result = await fitJson(
      'position_mm,reading_mm,note\n50,0.002,a\n0,0.001,b\n100,0.004,c\n',
    );
    expect(result.cautions.map((caution) => caution.code)).toEqual(
      expect.arrayContaining(['positions-out-of-order', 'column-ignored']),
    );
    expect(result.slope).toBeCloseTo((await fitJson(GOOD)).slope, 15);
  });
});
