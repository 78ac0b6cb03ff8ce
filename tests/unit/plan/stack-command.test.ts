import { mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli } from './run-cli.ts';

async function stack(...args: string[]) {
  const { code, out, err } = await runCli('stack', ...args, '--json');
  return { code, err, json: out === '' ? null : JSON.parse(out) };
}

describe('taptrue stack', () => {
  it('rounds the height of an angle to what the set resolves and says what is left', async () => {
    const { code, json } = await stack('--angle', '10deg', '--bar', '5in', '--set', 'inch-81');
    expect(code).toBe(0);
    expect(json).toMatchObject({
      targetIn: expect.closeTo(0.8682, 12),
      blocks: ['0.1002', '0.118', '0.650'],
      sumIn: 0.8682,
      alternatives: [],
    });
    expect(json.leftoverMm).toBeCloseTo(127 * Math.sin(Math.PI / 18) - 0.8682 * 25.4, 12);
    expect(json.angleErrorArcsec).toBeCloseTo((json.angleSetDeg - 10) * 3600, 6);
  });

  it('takes a height exactly, inch from a metric set too', async () => {
    expect((await stack('--height', '1in', '--set', 'metric-112')).json).toMatchObject({
      sumMm: 25.4,
      leftoverMm: 0,
      angleSetDeg: null,
    });
    expect(await stack('--height', '1.00001in', '--set', 'inch-81')).toMatchObject({
      code: 1,
      json: { blocks: null },
    });
  });

  it('prints the nearest either side where none can be built, exit 1', async () => {
    const { code, json } = await stack('--angle', '1deg', '--bar', '5in', '--set', 'inch-81');
    expect(code).toBe(1);
    expect(json).toMatchObject({
      blocks: null,
      below: { blocks: ['0.050'], sumIn: 0.05 },
      above: { blocks: ['0.100'] },
    });
    expect(json.above.angleDeg).toBeGreaterThan(1);
  });

  it('lists a wear pair apart and counts it in the sum', async () => {
    const { json } = await stack('--height', '52.215mm', '--set', 'metric-87', '--wear', '2');
    expect(json).toMatchObject({ wear: ['2.000', '2.000'], sumMm: 52.215 });
    expect(json.blocks).toHaveLength(4);
  });

  it('leaves struck blocks in the case', async () => {
    const { json } = await stack(
      '--angle',
      '10deg',
      '--bar',
      '5in',
      '--set',
      'inch-81',
      '--without',
      '0.118,0.650',
    );
    expect(json.blocks).not.toContain('0.118');
    expect(json.sumIn).toBe(0.8682);
  });

  it('checks a stack, exit 0 or 1', async () => {
    const ask = ['--angle', '10deg', '--bar', '5in', '--set', 'inch-81'];
    expect(await stack(...ask, '--blocks', '0.1002,0.128,0.140,0.500')).toMatchObject({
      code: 0,
      json: { adds: true },
    });
    expect(await stack(...ask, '--blocks', '0.102,0.118,0.650')).toMatchObject({
      code: 1,
      json: { adds: false, slips: [{ code: 'tenth-for-thousandth' }] },
    });
    expect(await stack(...ask, '--wear', '0.050', '--blocks', '0.1002,0.118,0.550')).toMatchObject({
      code: 0,
    });
    expect(
      await stack(...ask, '--wear', '0.050', '--blocks', '0.050,0.050,0.1002,0.118,0.550'),
    ).toMatchObject({ code: 0 });
  });

  it.each([
    [['--angle', '12.5', '--bar', '5in', '--set', 'inch-81'], 'unit'],
    [['--angle', '95deg', '--bar', '5in', '--set', 'inch-81'], 'over 90'],
    [['--angle', '-5deg', '--bar', '5in', '--set', 'inch-81'], 'negative'],
    [['--angle', '10deg', '--bar', '5', '--set', 'inch-81'], 'unit'],
    [['--angle', '10deg', '--set', 'inch-81'], 'bar'],
    [['--height', '6in', '--bar', '5in', '--set', 'inch-81'], 'shorter'],
    [['--height', '1in', '--set', 'inch-99'], 'inch-99'],
    [['--height', '1in', '--set', './no-such.json'], 'no such file'],
    [['--height', '1,500in', '--set', 'inch-81'], 'comma'],
    [['--height', '1in', '--set', 'inch-81', '--without', '0,128'], 'malformed|Block|as engraved'],
    [['--height', '1in', '--angle', '5deg', '--set', 'inch-81'], 'either'],
  ])('refuses %j with exit 3 and a sentence', async (args, said) => {
    const { code, err, json } = await stack(...args);
    expect([code, json]).toEqual([3, null]);
    expect(err).toMatch(new RegExp(said));
  });

  it("reads a set of the user's own, certified deviations and all", async () => {
    const file = join(await mkdtemp(join(tmpdir(), 'taptrue-set-')), 'mine.json');
    await writeFile(
      file,
      JSON.stringify({
        id: 'mine',
        title: 'Mine',
        unit: 'mm',
        source: 'case',
        fromMemory: false,
        blocks: [{ size: '10', count: 2, deviationUm: 1 }, { size: '1.005' }],
      }),
    );
    const { json } = await stack('--height', '20mm', '--bar', '100mm', '--set', file);
    expect(json).toMatchObject({
      blocks: ['10', '10'],
      sumMm: 20,
      trueSumMm: expect.closeTo(20.002, 12),
    });
    expect(json.angleErrorArcsec).toBeGreaterThan(4);
  });
});

describe('taptrue plan and budget', () => {
  const ask = ['--angle', '12deg30min', '--bar', '5in', '--set', 'inch-81', '--tolerance', '5min'];

  it('write a self-contained sheet', async () => {
    const file = join(await mkdtemp(join(tmpdir(), 'taptrue-sheet-')), 'sheet.html');
    expect((await runCli('plan', ...ask, '--sheet', file)).code).toBe(0);
    const html = await readFile(file, 'utf8');
    expect(html).toContain('<svg');
    expect(html).not.toMatch(/(src|href)=/);
  });

  it('print the budget against the tolerance', async () => {
    const { code, out } = await runCli('budget', ...ask, '--json');
    expect([code, JSON.parse(out).toleranceArcsec]).toEqual([0, 300]);
  });
});
