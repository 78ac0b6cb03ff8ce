import { readdirSync } from 'node:fs';
import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadSetUps, SHIPPED_SET_UPS } from '@taptrue/server/records/set-ups/load-set-ups.ts';
import { correctLine, planeOf } from '@taptrue/server/set-ups/correct-line.ts';
import { faultsOfSetUps } from '@taptrue/server/set-ups/set-up.ts';
import { describe, expect, it } from 'vitest';
import { lineCsv, run, runOn } from './run-cli.ts';

const NAMES = [
  'bed',
  'between-centres',
  'centre',
  'edge',
  'four-jaw',
  'head',
  'part-on-plate',
  'rail',
  'small-slope',
  'square',
  'taper',
  'vise-bar',
];

describe('the rows', () => {
  it('are the folders, and the command lists them', async () => {
    expect(readdirSync(SHIPPED_SET_UPS).sort()).toEqual(NAMES);
    const json = await run('setups', '--json');
    expect(JSON.parse(json.out).map((row: { name: string }) => row.name)).toEqual(NAMES);
    const table = await run('setups');
    for (const name of NAMES) expect(table.out).toMatch(new RegExp(`^${name} `, 'm'));
    expect([json.code, table.code]).toEqual([0, 0]);
  });

  it('each says what is swept, how, and a usual limit with its source', async () => {
    const rows = await loadSetUps();
    expect(faultsOfSetUps(rows)).toEqual([]);
    for (const row of rows) {
      for (const text of [row.title, row.swept, row.travel, row.usualLimit.source]) {
        expect(text).not.toBe('');
      }
      const ways =
        row.fit === 'circle'
          ? row.circle.parts.map((part) => part.ways)
          : row.planes.flatMap((plane) =>
              plane.corrects.flatMap(({ x, y }) => (y === null ? [x] : [x, y])),
            );
      for (const { plus, minus } of ways) {
        expect(plus.say).toContain('{amount}');
        expect(minus.say).toContain('{amount}');
        expect(plus.say).not.toBe(minus.say);
      }
    }
  });

  it('a thirteenth is one folder more', async () => {
    const rows = await loadSetUps([SHIPPED_SET_UPS, new URL('./added/', import.meta.url)]);
    expect(rows).toHaveLength(13);
    const row = rows.find(({ name }) => name === 'thirteenth');
    if (row?.fit !== 'line') throw new Error('not a line');
    const line = {
      slope: 0.001,
      targetSlope: 0,
      lengthMm: 500,
      axis: 'x' as const,
      tap: null,
      footSpacingMm: null,
      fromHeadstockMm: null,
    };
    expect(correctLine(planeOf(row, null)!, line, 'mm')).toMatchObject({
      kind: 'shift',
      amountMm: 0.5,
      words: 'Pull the far clamp 0.500 mm.',
    });
  });

  it('of one name twice is a fault', async () => {
    const rows = await loadSetUps();
    expect(faultsOfSetUps([...rows, rows[0]!])).toEqual(['bed: two set-ups have this name.']);
    await expect(loadSetUps([SHIPPED_SET_UPS, SHIPPED_SET_UPS])).rejects.toThrow('two set-ups');
  });
});

const LEVEL = lineCsv((x) => 0.0001 * x + 0.0003 * Math.sin(x));

describe('taptrue fit --setup', () => {
  it.each([
    [['--setup', 'bed'], /bed needs --foot-spacing/],
    [['--setup', 'between-centres'], /needs --from-headstock/],
    [['--setup', 'small-slope'], /needs --target-slope/],
    [['--setup', 'part-on-plate'], /needs --set-angle/],
    [['--setup', 'head'], /round a circle, not along a line/],
    [['--setup', 'nothing'], /Known: bed/],
    [['--foot-spacing', '200mm'], /belongs to a set-up/],
    [['--setup', 'edge', '--foot-spacing', '200mm'], /no use in edge/],
    [['--setup', 'bed', '--foot-spacing', '0mm'], /more than nothing/],
    [['--setup', 'bed', '--foot-spacing', '200'], /no unit/],
    [['--setup', 'rail', '--axis', 'y'], /not swept along Y/],
    [['--setup', 'rail', '--plane', 'top'], /one plane only/],
    [
      ['--setup', 'between-centres', '--from-headstock', '18in', '--plane', 'front'],
      /Write side or top/,
    ],
    [['--setup', 'bed', '--foot-spacing', '200mm', '--pivot', '0mm'], /what is tapped/],
    [['--setup', 'taper', '--taper-per-foot', '1in', '--half-angle', '1deg'], /Give one of them/],
    [['--setup', 'taper', '--taper-per-foot', '1in', '--target-slope', '0.01'], /Give one of them/],
    [['--setup', 'part-on-plate', '--set-angle', '30'], /no unit/],
  ])('refuses %j', async (args, sentence) => {
    const { code, out, err } = await runOn('fit', LEVEL, ...args);
    expect([code, out]).toEqual([3, '']);
    expect(err).toMatch(sentence);
  });

  it('judges as fit does, and speaks of shims where one is due', async () => {
    const args = ['--setup', 'bed', '--foot-spacing', '100mm', '--rises', 'toward'];
    const verdictAt = async (limit: string) => {
      const { code, out } = await runOn('fit', LEVEL, ...args, '--limit', limit, '--json');
      return { code, ...JSON.parse(out) };
    };
    expect(await verdictAt('0.1mm')).toMatchObject({ code: 0, verdict: 'true' });
    const out = await verdictAt('0.005mm');
    expect(out).toMatchObject({ code: 1, verdict: 'not true', cautions: [] });
    expect(out.sentence).toMatch(
      /^Not true: 0\.0\d+ mm over .*Shim 0\.01\d mm under the left foot/,
    );
  });

  it('tells what was taken for granted, and nothing of a tap whose sense is not known', async () => {
    const codes = async (...args: string[]) => {
      const { out } = await runOn('fit', LEVEL, ...args, '--json');
      const { correction, cautions } = JSON.parse(out);
      return [correction?.kind ?? null, ...cautions.map((c: { code: string }) => c.code)];
    };
    expect(await codes('--setup', 'bed', '--foot-spacing', '90mm')).toEqual([
      'shim',
      'rise-not-said',
    ]);
    const edge = await codes('--setup', 'edge', '--pivot', '0mm', '--mallet', '100mm');
    expect(edge[0]).toBeNull();
  });

  it('judges the part against the print with both uncertainties', async () => {
    const part = async (...more: string[]) => {
      const { code, out } = await runOn(
        'fit',
        lineCsv((x) => 0.0002 * x + 0.0001 * Math.sin(x)),
        ...['--setup', 'part-on-plate', '--set-angle', '30deg', '--stack', 'left'],
        ...['--rises', 'toward', '--limit-angle', '1min', '--json', ...more],
      );
      return { code, ...JSON.parse(out) };
    };
    // 0.0002 is 41 seconds: inside one minute, unless the stack is known to half a minute only.
    expect(await part('--set-uncertainty', '2arcsec')).toMatchObject({ code: 0, verdict: 'true' });
    expect(await part('--set-uncertainty', '30arcsec')).toMatchObject({
      code: 2,
      verdict: 'too close to call',
    });
    expect(await part('--wanted-angle', '30deg5min')).toMatchObject({
      code: 1,
      verdict: 'not true',
      part: { offArcsec: expect.closeTo(41.2 - 300, 0) },
    });
  });

  it('takes out the bar where it was turned end for end', async () => {
    const dir = await mkdtemp(join(tmpdir(), 'taptrue-turned-'));
    const turned = join(dir, 'turned.csv');
    // The part is off by 0.0002, the bar's face by 0.0005: they add one way round and not the other.
    await writeFile(
      turned,
      lineCsv((x) => (0.0002 - 0.0005) * x),
    );
    const { out } = await runOn(
      'fit',
      lineCsv((x) => (0.0002 + 0.0005) * x),
      ...['--setup', 'part-on-plate', '--set-angle', '30deg', '--stack', 'left'],
      ...['--rises', 'toward', '--json', '--turned', turned],
    );
    expect(JSON.parse(out).part).toMatchObject({
      offArcsec: expect.closeTo(41.25, 1),
      barArcsec: expect.closeTo(103.13, 1),
    });
  });

  it('says what the work would come to between centres', async () => {
    const { out } = await runOn(
      'fit',
      lineCsv((x) => 0.0001 * x),
      ...['--setup', 'between-centres', '--from-headstock', '500mm', '--rises', 'toward'],
    );
    // The right end lies nearer, so the tool takes more there.
    expect(out).toContain('Set the tailstock over, away from you, 0.050 mm.');
    expect(out).toContain('over 500.000 mm comes 0.100 mm smaller in diameter at its right end');
  });

  it('a line without a set-up stays as it was', async () => {
    const { out } = await runOn('fit', LEVEL, '--json');
    expect(JSON.parse(out)).not.toHaveProperty('correction');
  });
});
