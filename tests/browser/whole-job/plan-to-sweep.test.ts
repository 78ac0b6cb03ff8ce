import { formatAngle } from '@taptrue/protocol';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { closeBrowser, openPage, type RunningBench, runBench, until } from './running-bench.ts';

let bench: RunningBench;
afterEach(() => bench.close());
afterAll(closeBrowser);

describe('a stranger goes from the print to the sweep', () => {
  it('7°30′ ±5′ over 5 in: a wrong block is stopped and named, the right ones go on with limit and axis', async () => {
    bench = await runBench();
    const { page, complaints } = await openPage(bench.url);
    const plan = () => bench.state().plan;
    await page.getByRole('link', { name: 'Plan', exact: true }).click();

    await page.getByLabel('Angle, as written').fill(`7°30'`);
    await page.getByLabel('Angle, as written').press('Enter');
    await until('the plan is made', () => plan().answer !== null);
    await page.getByRole('button', { name: '± angle' }).click();
    await page.getByLabel('Either way, ±').fill('5min');
    await page.getByLabel('Either way, ±').press('Enter');
    await until('the tolerance is known', () => plan().answer?.limit != null);
    await page.getByRole('button', { name: 'left end away' }).click();
    await until('the hand is known', () => plan().answer?.hand === 'left-away');
    // 5 in x sin 7.5 degrees = 0.65263 in, by hand; the stack stands under the end that goes away.
    expect(plan().answer!.stack!.sumText).toBe('0.6526');
    expect(plan().answer!.direction).toMatchObject({ turn: 'clockwise', stackEnd: 'left' });
    expect(await page.locator('.plan-figure .number').textContent()).toBe('0.6526');

    const goOn = page.getByRole('button', { name: 'Go on to the sweep' });
    expect(await goOn.isDisabled()).toBe(true);
    const box = page.getByLabel('Block taken, as engraved');
    for (const block of ['0.106', '0.102', '0.450']) {
      const taken = plan().taken.length;
      await box.fill(block);
      await box.press('Enter');
      await until(`${block} is taken`, () => plan().taken.length === taken + 1);
    }
    await page.getByText('0.1060 was taken for 0.1006').first().waitFor();
    expect(plan().built).toBe(false);
    expect(await goOn.isDisabled()).toBe(true);

    await page.getByRole('button', { name: 'Take 0.106 out again' }).click();
    await until('the wrong one is out', () => plan().taken.length === 2);
    await box.fill('0.1006');
    await box.press('Enter');
    await until('the stack is built', () => plan().built);

    const opened = page.waitForEvent('popup');
    await page.getByRole('link', { name: 'Setup sheet, A4' }).click();
    const sheet = await opened;
    await sheet.waitForLoadState();
    expect(await sheet.locator('body').textContent()).toContain('0.1006');
    await sheet.close();

    await goOn.click();
    await expect.poll(() => new URL(page.url()).hash).toBe('#sweep');
    // A quarter of 5 minutes is 75 seconds of arc.
    const { limit } = bench.state().setup;
    expect(limit).toMatchObject({ kind: 'angle' });
    expect(formatAngle((limit as { rad: number }).rad)).toBe('0° 1′ 15″');
    expect(await page.getByLabel('Limit, angle').inputValue()).toBe('75 arcsec');
    expect(bench.state().setup).toMatchObject({ axis: 'x', targetSlope: 0, sweptLengthMm: 127 });
    expect(plan().inUse).toBe(true);
    const carried = page.getByRole('region', { name: 'From the plan' });
    expect(await carried.textContent()).toContain(plan().answer!.direction.sentence);
    expect(await carried.locator('svg[role=img]').isVisible()).toBe(true);
    expect(complaints).toEqual([]);
  }, 90_000);
});
