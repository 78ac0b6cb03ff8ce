import { describe, expect, it } from 'vitest';
import { AtTheBench } from '../../bench/at-the-bench.ts';
import { fitJson } from '../../cli/fit/run-fit.ts';

/** A sweep by the readout over part of a marked length of 127 mm, the line true to the limit there. */
function sweptTo(endMm: number): AtTheBench {
  const at = new AtTheBench({ way: 'readout', entry: 'device', rises: 'away', counts: 1 });
  at.connect('indicator');
  at.connect('readout');
  at.rests('readout', 300);
  at.must({ kind: 'mark end', end: 'left' });
  at.rests('readout', 427);
  at.must({ kind: 'mark end', end: 'right' });
  at.must({ kind: 'begin sweep' });
  for (let step = 0; step <= 254; step += 1) {
    const xMm = (endMm * step) / 254;
    at.nowMs += 20;
    at.reads('indicator', 0.0001 * ((Math.round(xMm * 5) * 37) % 7));
    if (step % 3 === 0 || step === 254) at.reads('readout', 300 + xMm);
    if (step % 10 === 0) at.bench.tick(at.nowMs);
  }
  at.must({ kind: 'end sweep' });
  return at;
}

describe('a part of the bar is not the bar', () => {
  it.each([20, 63.5, 110])(
    'swept over %d of the 127 mm that were marked, nothing is true',
    (mm) => {
      const { result } = sweptTo(mm);
      expect(result.verdict).toBe('too close to call');
      expect(result.cautions.map(({ code }) => code)).toContain('part-of-length');
    },
  );

  it.each([116, 127])('swept over %d of them, it is judged', (mm) => {
    const { result } = sweptTo(mm);
    expect(result.verdict).toBe('true');
    expect(result.cautions.map(({ code }) => code)).not.toContain('part-of-length');
  });

  it('stations that were ended early leave the rest of the bar unknown', () => {
    const at = new AtTheBench({ rises: 'away', stationsMm: [0, 10, 20, 30, 40, 60, 90, 127] });
    at.must({ kind: 'begin sweep' });
    for (const keyed of ['0.0000', '0.0001', '0.0000', '0.0001', '0.0000']) {
      at.nowMs += 2000;
      at.must({ kind: 'take station', keyed });
    }
    at.must({ kind: 'end sweep' });
    expect(at.result.verdict).not.toBe('true');
    expect(at.result.cautions.map(({ code }) => code)).toContain('part-of-length');
  });

  it('the command line ends with 2 where --limit-over is longer than the sweep', async () => {
    const rows = Array.from({ length: 9 }, (_, at) => `${at * 5},${((at * 37) % 3) * 0.0001}`);
    const text = `position_mm,reading_mm\n${rows.join('\n')}\n`;
    const limit = ['--limit', '0.02mm', '--resolution', '0.0001mm'];
    expect((await fitJson(text, ...limit, '--limit-over', '40mm')).exit).toBe(0);
    expect((await fitJson(text, ...limit, '--limit-over', '127mm')).exit).toBe(2);
  });
});
