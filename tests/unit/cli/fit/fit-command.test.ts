import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, existsSync, openSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { checkerOf, SweepResult } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import { fileWith, fitJson, runFit } from './run-fit.ts';

/** Six stations over 5 in; the reading falls by 0.0033 in. */
const SIX = `position_in,reading_in
0,0.0021
1,0.0014
2,0.0009
3,0.0001
4,-0.0005
5,-0.0012
`;
const OUT_AND_BACK = `position_mm,reading_mm,pass
0,0.010,out
60,0.012,out
127,0.011,out
127,0.015,back
60,0.014,back
0,0.016,back
`;

describe('taptrue fit', () => {
  it('prints the whole result as one object of the one schema', async () => {
    const { exit, ...result } = await fitJson(
      SIX,
      '--rises',
      'toward',
      '--pivot',
      '0mm',
      '--mallet',
      '150mm',
      '--parked',
      '127mm',
      '--limit',
      '0.001in',
    );
    expect(exit).toBe(1);
    expect(checkerOf(SweepResult).check(result)).toMatchObject({ ok: true });
    expect(result).toMatchObject({
      points: 6,
      slope: expect.closeTo(0.000657142857, 10),
      interceptMm: expect.closeTo(-0.0535819, 6),
      lengthMm: 127,
      endToEndMm: expect.closeTo(0.0834571, 6),
      tap: { end: 'right', direction: 'toward', amountMm: expect.closeTo(0.0985714, 6) },
      tapToReadingMm: expect.closeTo(0.0535819, 6),
      tapToAtMm: 127,
      verdict: 'not true',
      cautions: [],
    });
  });

  it.each([
    ['0.02in', 0, 'true'],
    ['0.0034in', 2, 'too close to call'],
    ['0.001in', 1, 'not true'],
  ])('with a limit of %s exits %d: %s', async (limit, exit, verdict) => {
    expect(await fitJson(SIX, '--limit', limit)).toMatchObject({ exit, verdict });
  });

  it('without a limit judges nothing and exits 0', async () => {
    expect(await fitJson(SIX)).toMatchObject({ exit: 0, verdict: null, limitArcsec: null });
  });

  it('takes a limit over a length of its own, or as an angle', async () => {
    // 0.001 in over 1 in is a slope of 0.001; the bar is out by 0.00066.
    expect(await fitJson(SIX, '--limit=0.001in', '--limit-over=1in')).toMatchObject({ exit: 0 });
    expect(await fitJson(SIX, '--limit-angle', '1min')).toMatchObject({
      exit: 1,
      limitArcsec: expect.closeTo(60, 9),
    });
    expect(await fitJson(SIX, '--limit-angle', '0.1deg')).toMatchObject({ exit: 0 });
  });

  it('gives no tap without the sense, the pivot or the mallet', async () => {
    const tapOf = async (...args: string[]) => (await fitJson(SIX, ...args)).tap;
    expect(await tapOf('--pivot', '0mm', '--mallet', '150mm')).toBeNull();
    expect(await tapOf('--rises', 'toward', '--mallet', '150mm')).toBeNull();
    expect(await tapOf('--rises', 'toward', '--pivot', '0mm')).toBeNull();
    expect(await tapOf('--rises', 'toward', '--pivot', '0mm', '--mallet', '150mm')).not.toBeNull();
  });

  it('says that a stylus or a mallet without a pivot could not be used', async () => {
    const codes = async (...args: string[]) =>
      (await fitJson(SIX, ...args)).cautions.map(({ code }) => code);
    expect(await codes('--parked', '127mm')).toContain('pivot-missing');
    expect(await codes('--mallet', '150mm')).toContain('pivot-missing');
    expect(await codes('--parked', '127mm', '--pivot', '0mm')).not.toContain('pivot-missing');
  });

  it('says against what a line lies off where the target is a slope', async () => {
    const sentence = async (...args: string[]) =>
      (await fitJson(SIX, '--rises', 'toward', ...args)).sentence;
    expect(await sentence()).not.toContain('wanted');
    expect(await sentence('--target-slope', '-0.001')).toMatch(
      /the right end lies 0\.0083 in farther away than wanted over/,
    );
  });

  it('shows a small limit in the other unit with the digits that it has', async () => {
    expect((await fitJson(SIX, '--limit', '1um')).sentence).toContain('limit 0.000039 in');
    expect((await fitJson(SIX, '--limit', '0.02mm')).sentence).toContain('limit 0.00079 in');
    expect((await fitJson(SIX, '--limit', '0.001in')).sentence).toContain('limit 0.0010 in');
  });

  it('takes the line as y = +reading without --rises, and says so', async () => {
    const result = await fitJson(SIX);
    expect(result.slope).toBeCloseTo(-0.000657142857, 10);
    expect(result.cautions.map((caution) => caution.code)).toContain('sense-not-known');
    expect((await fitJson(SIX, '--rises', 'away')).slope).toBe(result.slope);
  });

  it('takes negative values after a space or an =', async () => {
    const ask = ['--rises', 'toward', '--mallet', '150mm'];
    const spaced = await fitJson(SIX, ...ask, '--pivot', '-10mm');
    const joined = await fitJson(SIX, ...ask, '--pivot=-10mm');
    expect(spaced).toEqual(joined);
    expect(spaced.tap!.amountMm).toBeCloseTo(0.000657142857 * 160, 8);
    expect((await fitJson(SIX, '--target-slope', '-.0006')).deviationArcsec).toBeCloseTo(
      -11.786,
      2,
    );
  });

  it('counts a lever stylus by its cosine, and what is known of the indicator into the uncertainty', async () => {
    const plain = await fitJson(SIX, '--rises', 'toward');
    const inclined = await fitJson(SIX, '--rises', 'toward', '--stylus-angle', '60deg');
    expect(inclined.slope).toBeCloseTo(plain.slope / 2, 12);
    for (const option of ['--permissible-error', '--repeatability', '--resolution']) {
      const wider = await fitJson(SIX, option, '0.001in');
      expect(wider.outOfTrueArcsecExpanded!).toBeGreaterThan(plain.outOfTrueArcsecExpanded!);
    }
  });

  it('fits out and back each by itself and lists both', async () => {
    const result = await fitJson(OUT_AND_BACK);
    expect(result.passes.map((pass) => [pass.pass, pass.points])).toEqual([
      ['out', 3],
      ['back', 3],
    ]);
    expect(result.slope).toBeCloseTo((result.passes[0]!.slope + result.passes[1]!.slope) / 2, 15);
    expect(result.gapMm).toBeCloseTo(0.004, 3);
    expect(result.closureMm).toBeCloseTo(0.006, 9);
    // Gathered into steps, the way back still ends where the way out began.
    expect((await fitJson(OUT_AND_BACK, '--bins', '5')).closureMm).toBeCloseTo(0.006, 9);
  });

  it('gathers into equal steps only when asked', async () => {
    const rows = Array.from(
      { length: 400 },
      (_, i) => `${i * 0.3},${(i * 0.3 * 0.0002).toFixed(6)}`,
    );
    const parked = Array.from({ length: 600 }, () => '119.7,0.03');
    const text = `position_mm,reading_mm\n${[...rows, ...parked].join('\n')}\n`;
    expect((await fitJson(text)).points).toBe(1000);
    const binned = await fitJson(text, '--bins', '40');
    expect(binned.points).toBe(40);
    expect(Math.abs(binned.slope - 0.0002)).toBeLessThan(1e-5);
    expect(binned.cautions.map((caution) => caution.code)).not.toContain('repeated-positions');
  });

  it('compares plainly when asked, and says so', async () => {
    const plain = await fitJson(SIX, '--limit', '0.0034in', '--decision', 'plain');
    expect(plain).toMatchObject({ exit: 0, verdict: 'true', decisionRule: 'plain' });
    expect(plain.cautions.map((caution) => caution.code)).toContain('plain-comparison');
  });

  it('uses the words of the other axis along Y', async () => {
    const result = await fitJson(
      SIX,
      '--axis',
      'y',
      '--rises',
      'toward',
      '--pivot',
      '0mm',
      '--mallet',
      '6in',
    );
    expect(result.tap).toMatchObject({ end: 'far', direction: 'right' });
  });

  it('calls nothing by two stations unless it is known what the bench repeats to, and says so', async () => {
    const two = 'position_in,reading_in\n0,0.0000\n5,0.0009\n';
    const result = await fitJson(two, '--limit', '0.001in');
    expect(result.slopeStandardError).toBeNull();
    expect(result.cautions.map((caution) => caution.code)).toEqual(
      expect.arrayContaining(['two-stations', 'resolution-from-digits']),
    );
    // 0.0001 in over 5 in, two ends: q / (sqrt(6) L).
    expect(result.angleStandardUncertaintyArcsec).toBeCloseTo(1.684, 3);
    expect(result.exit).toBe(2);
    expect(result.cautions.map((caution) => caution.code)).toContain('uncertainty-not-known');
    const told = await fitJson(two, '--limit', '0.001in', '--permissible-error', '0.0002in');
    expect(told.cautions.map((caution) => caution.code)).not.toContain('resolution-from-digits');
    expect(told.exit).toBe(2);
    // 0.0009 in guarded by 1.645 (0.00001 in sqrt 2, and what the digit is worth).
    const known = ['--resolution', '0.00005in', '--repeatability', '0.00001in'];
    expect((await fitJson(two, '--limit', '0.001in', ...known)).exit).toBe(0);
  });

  it('reports in words, in the unit of the readings', async () => {
    const { code, out, err } = await runFit(
      await fileWith(SIX),
      '--rises',
      'toward',
      '--pivot',
      '0mm',
      '--mallet',
      '5in',
      '--limit',
      '0.001in',
    );
    expect(code).toBe(1);
    expect(err).toBe('');
    expect(out.split('\n')[0]).toBe('Tap the right end, toward you, 0.0033 in; stop at +0.0021.');
    expect(out).toContain('end to end     +0.00329 in   ± 0.00021 in (95 %)');
    expect(out).toContain('verdict        not true');
    const metric = await runFit(await fileWith(OUT_AND_BACK));
    expect(metric.out).toContain('127.000 mm');
    expect(metric.out).toContain('Mind:');
  });

  it('has its help', async () => {
    const { code, out } = await runFit('--help');
    expect(code).toBe(0);
    for (const option of ['--rises', '--limit-over', '--bins', '--decision', '--repeatability']) {
      expect(out).toContain(option);
    }
  });
});

describe('the launcher run by Node', () => {
  const launcher = fileURLToPath(new URL('../../../../server/bin/taptrue.js', import.meta.url));
  const run = (args: string[], input = '') =>
    spawnSync(process.execPath, [launcher, 'fit', ...args], { input, encoding: 'utf8' });

  it('reads standard input and gives object, reason and exit code where they belong', async () => {
    const judged = run(['-', '--json', '--limit', '0.001in'], SIX);
    expect(judged.status).toBe(1);
    expect(JSON.parse(judged.stdout)).toMatchObject({ points: 6, verdict: 'not true' });
    expect(judged.stderr).toBe('');
    const refused = run(['-', '--json'], 'position_in,reading_in\n0,1\n');
    expect(refused.status).toBe(3);
    expect(refused.stdout).toBe('');
    expect(refused.stderr).toContain('two positions');
  }, 60_000);

  it('does not end as `not true` because its reader goes away', async () => {
    const child = spawn(process.execPath, [launcher, 'fit', '-', '--json', '--limit', '1in']);
    child.stdout.destroy();
    let said = '';
    child.stderr.on('data', (chunk) => (said += chunk));
    child.stdin.end(SIX);
    expect(await once(child, 'exit')).toEqual([0, null]);
    expect(said).toBe('');
  }, 60_000);

  it.skipIf(!existsSync('/dev/full'))(
    'ends with 70 and the reason where its output cannot be written',
    () => {
      const full = openSync('/dev/full', 'w');
      const ran = spawnSync(process.execPath, [launcher, 'fit', '-', '--json'], {
        input: SIX,
        encoding: 'utf8',
        stdio: ['pipe', full, 'pipe'],
      });
      closeSync(full);
      expect(ran.status).toBe(70);
      expect(ran.stderr).toMatch(/^The output could not be written: /);
    },
    60_000,
  );

  it('refuses a command that is only the name of something else', () => {
    for (const name of ['constructor', 'toString', '__proto__']) {
      const ran = spawnSync(process.execPath, [launcher, name], { encoding: 'utf8' });
      expect(ran.status).toBe(3);
      expect(ran.stderr).toContain(`There is no command "${name}"`);
    }
  }, 60_000);
});
