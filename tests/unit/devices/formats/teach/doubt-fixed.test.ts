import type { Mark, TeachQuestion } from '@taptrue/protocol';
import { teachShape } from '@taptrue/server/devices/formats/teach/teach-shape.ts';
import { describe, expect, it } from 'vitest';

const TOLD: TeachQuestion = {
  captured: '',
  fromPort: false,
  form: 'lines',
  frameBytes: null,
  recordLines: 1,
  line: 0,
  marks: null,
  meanings: [],
  wholeLines: [],
  number: { kind: 'digits', decimals: null, lowestFirst: false },
  unit: 'mm',
  screenSaid: [],
  name: 'by-its-form',
  title: 'By its form',
  trigger: 'streams',
  request: null,
  port: null,
};

const latin1 = (text: string) => Buffer.from(text, 'utf8').toString('latin1');
const teach = (lines: readonly string[], told: Partial<TeachQuestion> = {}) =>
  teachShape({ ...TOLD, captured: `${lines.map(latin1).join('\r\n')}\r\n`, ...told });

describe('what stands beside the number in every line', () => {
  it.each([
    ['micrometres', ['123.4 um', '120.9 um', '98.5 um']],
    ['micrometres by their sign', ['123.4 µm', '120.9 µm', '98.5 µm']],
    ['centimetres', ['1.234cm', '1.209cm', '0.985cm']],
    ['metres', ['0.125 m', '0.126 m', '0.131 m']],
    ['mil', ['3.14 mil', '3.15 mil', '2.99 mil']],
    ['thousandths', ['3.14 thou', '3.15 thou', '2.99 thou']],
    ['feet', ['0.314 ft', '0.315 ft', '0.299 ft']],
    ['micrometres in front', ['UM 123.4', 'UM 120.9', 'UM 98.5']],
    ['grams', ['N 0.3746 g', 'N 0.3751 g', 'N 0.4002 g']],
    ['kilograms', ['1.47 kg', '1.48 kg', '1.52 kg']],
    ['pounds of force', ['-18.78 lbF', '-18.70 lbF', '-17.99 lbF']],
    ['degrees', ['12.73 deg', '12.75 deg', '12.80 deg']],
    ['degrees by their sign', ['12.73°', '12.75°', '12.80°']],
    ['per cent', ['12.73 %', '12.75 %', '12.80 %']],
    ['a mode', ['0.123 ABS', '0.124 ABS', '0.130 ABS']],
    ['a minus behind', ['0.123-', '0.124-', '0.130-']],
    ['brackets', ['(0.123)', '(0.124)', '(0.130)']],
    ['the long minus', ['−0.123', '−0.124', '−0.130']],
    ['a word for minus', ['0.123 NEG', '0.124 NEG', '0.130 NEG']],
    ['thousands', ['1,234.5', '1,235.1', '1,240.9']],
  ])('%s: no shape without a word', (_what, lines) => {
    const answer = teach(lines);
    expect(answer.shape).toBeNull();
    expect(answer.needs.join(' ')).toMatch(/beside the number|before the number/);
  });

  it.each([
    ['an unknown symbol behind the number', ['0.123*5A', '0.124*5A', '-0.130*5A']],
    ['micrometres in brackets', ['99.1 (um)', '99.2 (um)', '-98.7 (um)']],
    ['micrometres in square brackets', ['99.1[um]', '99.2[um]', '-98.7[um]']],
    ['micrometres behind a colon', ['99.1:um', '99.2:um', '-98.7:um']],
    ['micrometres in a column of their own', ['um;A;99.1', 'um;A;99.2', 'um;A;-98.7']],
    ['quoted micrometres', ['"99.1" "um"', '"99.2" "um"', '"-98.7" "um"']],
    ['kilograms in front', ['kg 1.50', 'kg 1.60', 'kg -1.70']],
    ['degrees in front', ['deg 12.9', 'deg 12.8', 'deg -12.1']],
    ['kilograms behind a status', ['1.50 OK kg', '1.60 OK kg', '-1.70 OK kg']],
    ['metres in front', ['m 0.130', 'm 0.131', 'm -0.132']],
    ['a word for minus in front', ['NEG 0.125', 'NEG 0.126', 'NEG 0.127']],
    ['a comma that may be a thousand', ['1,234', '1,260', '1,301']],
    ['a display full of nines', ['+0000.123', '+9999.999', '-0000.130']],
    ['letters of stability', ['US,0.150', 'ST,0.150', 'ST,0.151', 'US,0.160']],
  ])('%s: asked, not read', (_what, lines) => {
    const answer = teach(lines);
    expect(answer.shape).toBeNull();
    expect(answer.needs.join(' ')).toMatch(/beside the number|means as|thousand|out of its range/);
  });

  it.each([
    ['ignored', '99.1 kg'],
    ['unit', '99.1 kg'],
    ['ignored', '99.1 um'],
    ['unit', '99.1 um'],
  ] as const)('marked as %s, %s is refused all the same', (means, line) => {
    const lines = [line, line.replace('99', '98'), line.replace('99', '97')];
    const marks: Mark[] = [
      { from: 0, to: 4, means: 'number' },
      { from: 5, to: 7, means },
    ];
    const text = line.slice(5);
    const meanings = [{ span: means, text, means: 'mm' }];
    expect(teach(lines, { marks, meanings }).shape).toBeNull();
  });

  it('a comma before three digits is settled by what the screen showed', () => {
    const told = { screenSaid: ['1.234', '', ''] };
    expect(teach(['1,234', '1,260', '1,301'], told).shape).not.toBeNull();
    const thousand = { screenSaid: ['1234', '', ''] };
    expect(teach(['1,234', '1,260', '1,301'], thousand).shape).toBeNull();
  });

  it.each([
    ['mm', ['0.123 mm', '0.124 mm', '-0.130 mm']],
    ['inch', ['0.1234 INCH', '0.1240 INCH', '-0.1300 INCH']],
    ['nothing', ['0.123', '0.124', '-0.130']],
    ['another axis', ['X1.50 Y2.50', 'X1.60 Y2.40', 'X-1.70 Y2.30']],
    ['a separator', ['1;0.123;', '2;0.124;', '3;-0.130;']],
  ])('%s: taught as before', (_what, lines) => {
    expect(teach(lines).needs.join(' ')).not.toMatch(/beside the number|before the number/);
  });

  it('marked as passed over it is the user’s own word', () => {
    const lines = ['0.123 ABS', '0.124 ABS', '-0.130 ABS'];
    const marks: Mark[] = [
      { from: 0, to: 5, means: 'number' },
      { from: 6, to: 9, means: 'ignored' },
    ];
    expect(teach(lines, { marks }).needs.join(' ')).not.toContain('beside the number');
  });
});
