import { describe, expect, it } from 'vitest';
import { circleCsv, runOn } from '../run-cli.ts';

const RAD = Math.PI / 180;
const wave = (deg: number) => 0.5 + 0.02 * Math.cos((deg - 60) * RAD);
/** A wave with a little scatter that no harmonic explains. */
const noisy = (deg: number) => wave(deg) + 0.0004 * Math.sin(deg * deg);
const ALL = ['--diameter', '8in', '--rises', 'toward'];

async function circle(csv: string, ...args: string[]) {
  const { code, out, err } = await runOn('circle', csv, ...args, '--json');
  if (out === '') throw new Error(err);
  return { code, result: JSON.parse(out) };
}
const codes = (result: { cautions: { code: string }[] }) => result.cautions.map(({ code }) => code);

describe('taptrue circle', () => {
  it('prints what the readings say, in millimetres and degrees', async () => {
    const { code, result } = await circle(circleCsv(12, noisy), '--setup', 'head', ...ALL);
    expect(code).toBe(0);
    expect(result).toMatchObject({
      points: 12,
      meanMm: expect.closeTo(0.5, 3),
      amplitudeMm: expect.closeTo(0.02, 3),
      towardDeg: expect.closeTo(60, 0),
      outOfRoundMm: expect.any(Number),
      verdict: null,
      cautions: [],
      correction: { kind: 'tilt', direction: 'left and toward', where: 'top of the head' },
    });
    expect(result.amplitudeExpandedMm).toBeGreaterThan(0);
    expect(result.correction.amountMm).toBeCloseTo(2 * result.amplitudeMm, 12);
    expect(result.correction.parts.map((part: { name: string }) => part.name)).toEqual([
      'side',
      'fore-and-aft',
    ]);
  });

  it.each([
    ['0.06mm', 0, 'true'],
    ['0.0402mm', 2, 'too close to call'],
    ['0.02mm', 1, 'not true'],
  ])('with a limit of %s over the diameter exits %d: %s', async (limit, exit, verdict) => {
    const { code, result } = await circle(
      circleCsv(8, noisy),
      ...['--setup', 'head', ...ALL, '--limit', limit],
    );
    expect([code, result.verdict]).toEqual([exit, verdict]);
  });

  it('reads inches and a jaw at an angle of its own, with or without its unit', async () => {
    const csv = circleCsv(8, noisy).replace('reading_mm', 'reading_in');
    for (const one of ['60', '60deg']) {
      const { result } = await circle(
        csv,
        ...['--setup', 'four-jaw', '--face', 'boss', ...ALL, '--jaw-one', one],
      );
      expect(result.amplitudeMm).toBeCloseTo(0.02 * 25.4, 2);
      expect(result.correction).toMatchObject({ kind: 'shift', direction: 'in', where: 'jaw 1' });
    }
  });

  it('gives no verdict with fewer than seven places, and the number all the same', async () => {
    const { code, result } = await circle(
      circleCsv(6, noisy),
      ...['--setup', 'head', ...ALL, '--limit', '1mm'],
    );
    expect([code, result.verdict]).toEqual([2, 'too close to call']);
    expect(result.amplitudeMm).toBeCloseTo(0.02, 3);
    expect(codes(result)).toContain('few-places-round');
  });

  it('gives no verdict over a part of the turn that was not read', async () => {
    const crowded = ['angle_deg,reading_mm'];
    for (const deg of [0, 20, 40, 60, 80, 100, 120, 140, 220]) {
      crowded.push(`${deg},${noisy(deg)}`);
    }
    const { code, result } = await circle(
      crowded.join('\n'),
      ...['--setup', 'head', ...ALL, '--limit', '1mm'],
    );
    expect([code, result.verdict]).toEqual([2, 'too close to call']);
    expect(codes(result)).toContain('wide-gap-round');
  });

  it('counts places, not readings', async () => {
    const csv = `${circleCsv(4, noisy)}\n${circleCsv(4, noisy).split('\n').slice(1).join('\n')}`;
    const { code, result } = await circle(csv, '--setup', 'head', ...ALL, '--limit', '1mm');
    expect([code, result.points, result.places]).toEqual([2, 8, 4]);
  });

  it('warns that four even places read three lobes as being off, and seven show them', async () => {
    const lobed = (deg: number) => 0.01 * Math.cos(3 * deg * RAD);
    const four = await circle(circleCsv(4, lobed), '--setup', 'centre', '--face', 'bore', ...ALL);
    expect(four.result.amplitudeMm).toBeCloseTo(0.01, 9);
    expect(codes(four.result)).toContain('lobes-read-as-off-centre');
    expect(four.result.cautions.map((c: { text: string }) => c.text).join()).toContain('3 lobes');
    const scattered = (deg: number) => lobed(deg) + 0.0001 * Math.sin(deg * deg);
    const eight = await circle(
      circleCsv(8, scattered),
      ...['--setup', 'centre', '--face', 'bore', ...ALL],
    );
    expect(eight.result.amplitudeMm).toBeLessThan(0.0002);
    expect(eight.result.lobes).toMatchObject({ count: 3, amplitudeMm: expect.closeTo(0.01, 3) });
    expect(codes(eight.result)).toContain('lobes');
    expect(eight.result.outOfRoundMm).toBeCloseTo(0.02, 2);
  });

  it('names three places as leaving nothing to judge by', async () => {
    const { code, result } = await circle(
      circleCsv(3, noisy),
      ...['--setup', 'head', ...ALL, '--limit', '1mm'],
    );
    expect(code).toBe(2);
    expect(result).toMatchObject({ amplitudeExpandedMm: null, outOfRoundMm: null });
    expect(codes(result)).toContain('uncertainty-not-known');
  });

  it('names a spindle turned back, and a start that does not come again', async () => {
    const back = ['angle_deg,reading_mm'];
    for (const deg of [0, 90, 45, 135, 180, 225, 270, 315, 360]) {
      back.push(`${deg},${(noisy(deg) + (deg === 360 ? 0.01 : 0)).toFixed(5)}`);
    }
    const { result } = await circle(back.join('\n'), '--setup', 'head', ...ALL);
    expect(codes(result)).toEqual(expect.arrayContaining(['turned-back', 'start-not-repeated']));
  });

  it('tells nothing to move where bore or boss was not said', async () => {
    const { result } = await circle(circleCsv(8, noisy), '--setup', 'centre', ...ALL);
    expect(result.correction).toBeNull();
    expect(codes(result)).toEqual(['face-not-said']);
  });

  it('calls nothing true that was read from a needle nobody saw move', async () => {
    const { code, result } = await circle(
      circleCsv(8, () => 0.5),
      ...['--setup', 'head', ...ALL, '--limit', '0.05mm'],
    );
    expect([code, result.verdict]).toEqual([2, 'too close to call']);
    expect(codes(result)).toContain('needle-not-seen-moving');
  });

  it('sees an indicator that stood at its stop over part of the turn', async () => {
    for (const stopped of [
      (deg: number) => Math.min(noisy(deg), 0.509),
      (deg: number) => Math.max(noisy(deg), 0.491),
    ]) {
      const { code, result } = await circle(
        circleCsv(12, stopped),
        ...['--setup', 'head', ...ALL, '--limit', '0.2mm'],
      );
      expect([code, codes(result)[0]]).toEqual([2, 'indicator-at-its-stop']);
    }
    // Rounded to its count, a small wave has equal readings at its crest too, and is believed.
    const rounded = (deg: number) => Math.round((0.5 + 0.002 * Math.cos(deg * RAD)) * 1000) / 1000;
    const small = await circle(
      circleCsv(12, rounded),
      ...['--setup', 'head', ...ALL, '--limit', '0.02mm'],
    );
    expect([small.code, small.result.verdict]).toEqual([0, 'true']);
  });

  it('does not count neighbours of a stream as so many readings', async () => {
    // A slow drag of the stylus that comes and goes: 360 readings, each much like the one before.
    const dragged = (deg: number) => wave(deg) + 0.003 * Math.sin(5 * deg * RAD + deg / 40);
    const stream = await circle(circleCsv(360, dragged), '--setup', 'head', ...ALL);
    const keyed = await circle(circleCsv(36, dragged), '--setup', 'head', ...ALL);
    expect(stream.result.amplitudeExpandedMm).toBeGreaterThan(
      0.5 * keyed.result.amplitudeExpandedMm,
    );
  });

  it('says what it took for granted', async () => {
    const { result } = await circle(
      circleCsv(8, noisy),
      ...['--setup', 'four-jaw', '--diameter', '2in'],
    );
    expect(codes(result)).toEqual([
      'face-not-said',
      'rise-not-said',
      'jaw-one-not-said',
      'turning-not-said',
    ]);
  });

  it('prints a report that ends in what to mind', async () => {
    const { code, out } = await runOn('circle', circleCsv(8, noisy), '--setup', 'head', ...ALL);
    expect(code).toBe(0);
    expect(out).toMatch(/^Out of true: 0\.040 mm over 203\.200 mm\. Top of the head to the left/);
    expect(out).toContain('fore-and-aft');
    expect(out).toMatch(/Mind:\n {2}- Tighten the head in stages/);
  });
});

const HEAD = ['--setup', 'head', ...ALL];

describe('taptrue circle refuses, with a sentence', () => {
  it.each([
    ['two places', 'angle_deg,reading_mm\n0,1\n180,2', HEAD, /three places at least/],
    ['no place', 'angle_deg,reading_mm', HEAD, /three places at least/],
    [
      'three readings at two places',
      'angle_deg,reading_mm\n0,1\n180,2\n360,1',
      HEAD,
      /3 readings at 2 places/,
    ],
    [
      'all in one half',
      'angle_deg,reading_mm\n0,1\n60,2\n120,1\n180,2',
      HEAD,
      /one half of the circle/,
    ],
    [
      'one half across zero',
      'angle_deg,reading_mm\n-80,1\n-20,2\n20,1\n80,2',
      HEAD,
      /one half of the circle/,
    ],
    ['no diameter', circleCsv(8, wave), ['--setup', 'head'], /diameter .* is missing/],
    [
      'a diameter of nothing',
      circleCsv(8, wave),
      ['--setup', 'head', '--diameter', '0mm'],
      /more than nothing/,
    ],
    ['a bare diameter', circleCsv(8, wave), ['--setup', 'head', '--diameter', '8'], /no unit/],
    ['no set-up', circleCsv(8, wave), ALL, /Which set-up/],
    ['a line', circleCsv(8, wave), ['--setup', 'bed', ...ALL], /swept along a line/],
    ['an unknown set-up', circleCsv(8, wave), ['--setup', 'lathe', ...ALL], /Known: bed/],
    ['a face of a head', circleCsv(8, wave), [...HEAD, '--face', 'bore'], /Leave it out/],
    ['a head round still work', circleCsv(8, wave), [...HEAD, '--turns', 'work'], /Leave it out/],
    ['jaws of a bore', circleCsv(8, wave), ['--setup', 'centre', ...ALL, '--jaw-one', '0'], /jaws/],
    ['another face', circleCsv(8, wave), ['--setup', 'centre', ...ALL, '--face', 'top'], /bore or/],
    ['a sweep of a line', 'position_mm,reading_mm\n0,1\n5,2', HEAD, /angle_deg/],
    ['angles in radians', 'angle_rad,reading_mm\n0,1\n5,2', HEAD, /angle_deg/],
    ['a word for a number', 'angle_deg,reading_mm\n0,1\n90,x\n180,2', HEAD, /Line 3/],
    ['an empty cell', 'angle_deg,reading_mm\n0,1\n90,\n180,2', HEAD, /empty/],
  ])('%s', async (_name, csv, args, sentence) => {
    const { code, out, err } = await runOn('circle', csv, ...args);
    expect([code, out]).toEqual([3, '']);
    expect(err).toMatch(sentence);
  });
});
