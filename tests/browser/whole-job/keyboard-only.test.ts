import type { Page } from 'playwright-core';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { pressByKeyboard, tabTo } from './by-keyboard.ts';
import { closeBrowser, openPage, type RunningBench, runBench, until } from './running-bench.ts';

let bench: RunningBench;
afterEach(() => bench.close());
afterAll(closeBrowser);

/**
 * A bar 127 mm long, a manual indicator on the operator's side: the reading rises toward the operator, so
 * r = -y. It turns about x_p = -8 mm; b is its slope. Readings as a dial in inches would show them.
 */
class HandBench {
  slope: number;
  readonly pivotMm = -8;
  constructor(slope: number) {
    this.slope = slope;
  }

  /** To the nearest 0.0001 in, as read off a dial. */
  dialAt(xMm: number): string {
    return (-(this.slope * (xMm - this.pivotMm)) / 25.4).toFixed(4);
  }

  /** The mallet at the right end moves the surface there by this much, mm, positive away. */
  strike(amountMm: number, malletMm: number): void {
    this.slope += amountMm / (malletMm - this.pivotMm);
  }
}

async function sweepByTyping(page: Page, hand: HandBench): Promise<void> {
  for (const xMm of [0, 31.75, 63.5, 95.25, 127]) {
    const taken = bench.state().sweep!.points.length;
    await tabTo(page, 'Reading, in');
    await page.keyboard.type(hand.dialAt(xMm));
    await page.keyboard.press('Enter');
    await until('the station is taken', () => {
      const sweep = bench.state().sweep!;
      return sweep.points.length > taken || sweep.state === 'ended';
    });
  }
  await until('the sweep has ended', () => bench.state().sweep?.state === 'ended');
}

describe('keyed stations by keyboard alone', () => {
  it('nudge, sweep, park, type after each tap, tighten, and true at tight, without a mouse', async () => {
    bench = await runBench();
    const hand = new HandBench(0.004);
    const { page, complaints } = await openPage(bench.url);

    await tabTo(page, 'What the dial shows now');
    await page.keyboard.type('0.0100');
    await pressByKeyboard(page, 'Begin the nudge');
    await until('the nudge waits', () => bench.state().nudges.y.state === 'waiting for the move');
    await tabTo(page, 'What the dial shows after the move');
    await page.keyboard.type('0.0050');
    await pressByKeyboard(page, 'The saddle has moved');
    await until('the nudge is done', () => bench.state().nudges.y.state === 'done');
    expect(bench.state().setup.rises).toBe('toward');

    await page.keyboard.press('Control+Enter');
    await until('the sweep begins', () => bench.state().sweep?.state === 'being taken');
    await sweepByTyping(page, hand);
    const { result } = bench.state().sweep!;
    // 0.004 over 127 mm is 0.508 mm = 0.0200 in; the mallet at 147 mm stands 155 mm from the pivot: 0.62 mm.
    expect(result!.endToEndMm).toBeCloseTo(0.508, 2);
    expect(result!.tap).toMatchObject({ end: 'right', direction: 'toward' });
    expect(result!.tap!.amountMm).toBeCloseTo(0.62, 2);

    await pressByKeyboard(page, 'Go to the mallet');
    await tabTo(page, 'What the dial shows there');
    await page.keyboard.type(hand.dialAt(127));
    await page.keyboard.press('Enter');
    await until('the stylus is parked', () => bench.state().tap !== null);
    for (const share of [0.6, 0.9, 1]) {
      hand.strike(bench.state().tap!.remainingAtMalletMm! * share, bench.state().setup.malletMm);
      const taps = bench.state().tap!.steps.length;
      await tabTo(page, 'What the dial shows after the tap');
      await page.keyboard.type(hand.dialAt(127));
      await page.keyboard.press('Enter');
      await until('the tap is noted', () => bench.state().tap!.steps.length > taps);
    }
    expect(bench.state().tap!.standing).toBe('stop');

    await pressByKeyboard(page, 'tight');
    await until('the clamps are tight', () => bench.state().bench.stage === 'tight');
    await page.keyboard.press('Home');
    await pressByKeyboard(page, 'Sweep again');
    await until('the second sweep begins', () => bench.state().sweep?.state === 'being taken');
    await sweepByTyping(page, hand);
    expect(bench.state().bench.job.standing).toBe('true');
    await page.getByText('wrench off').first().waitFor();
    expect(complaints).toEqual([]);
  }, 120_000);

  it('typed characters go nowhere when the box is not chosen, and the page says so', async () => {
    bench = await runBench();
    const { page } = await openPage(bench.url);
    await bench.command({ kind: 'skip nudge', nudge: 'y' });
    await bench.command({ kind: 'begin sweep' });
    await page.getByLabel('Reading, in').waitFor();
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    await page.keyboard.type('0.0015');
    await page.getByText('Typed characters went nowhere').waitFor();
    expect(bench.state().sweep!.points).toEqual([]);
  }, 60_000);
});
