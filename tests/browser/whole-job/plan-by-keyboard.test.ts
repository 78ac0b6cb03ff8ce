import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { pressByKeyboard, tabTo, typeInto } from './by-keyboard.ts';
import { closeBrowser, openPage, type RunningBench, runBench, until } from './running-bench.ts';

let bench: RunningBench;
afterEach(() => bench.close());
afterAll(closeBrowser);

describe('the plan by keyboard alone', () => {
  it('from the empty plan to the built one, the line chosen on its picture, a wrong block taken out, and on', async () => {
    bench = await runBench();
    const { page, complaints } = await openPage(bench.url);
    const plan = () => bench.state().plan;
    await pressByKeyboard(page, 'Plan');
    await expect.poll(() => new URL(page.url()).hash).toBe('#plan');

    await typeInto(page, 'Angle, as written', '82deg30min');
    await until('the angle is read', () => plan().answer?.written.dmsText === '82° 30′ 00″');
    await pressByKeyboard(page, 'the edge square to the jaw');
    await until('the angle is turned', () => plan().answer?.angle.dmsText === '7° 30′ 00″');
    await typeInto(page, 'Which edge of the print that line is', 'datum B');
    await until('the edge is noted', () => plan().question.referenceLine === 'datum B');
    await pressByKeyboard(page, 'left end away');
    await until('the hand is known', () => plan().answer?.hand === 'left-away');
    await pressByKeyboard(page, '± angle');
    await typeInto(page, 'Either way, ±', '5min');
    await until('the tolerance is known', () => plan().answer?.limit != null);
    await pressByKeyboard(page, '100 mm');
    await until('the bar is the other one', () => plan().question.bar?.length === '100mm');
    await typeInto(page, 'Length, as known', '5in');
    await until('the bar is the first again', () => plan().question.bar?.length === '5in');
    // 5 in x sin 7.5 degrees = 0.65263 in, by hand.
    expect(plan().answer!.stack!.sumText).toBe('0.6526');

    await tabTo(page, 'Block taken, as engraved');
    await page.keyboard.type('0.106 0.102 0.450');
    await page.keyboard.press('Enter');
    await page.getByText('0.1060 was taken for 0.1006').first().waitFor();
    expect(plan().built).toBe(false);
    await pressByKeyboard(page, 'Take 0.106 out again');
    await until('the wrong one is out', () => plan().taken.length === 2);
    await tabTo(page, 'Block taken, as engraved');
    await page.keyboard.type('0.1006');
    await page.keyboard.press('Enter');
    await until('the stack is built', () => plan().built);

    await pressByKeyboard(page, 'Go on to the sweep');
    await expect.poll(() => new URL(page.url()).hash).toBe('#sweep');
    expect(plan().inUse).toBe(true);
    expect(complaints).toEqual([]);
  }, 240_000);
});
