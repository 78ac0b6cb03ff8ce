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
