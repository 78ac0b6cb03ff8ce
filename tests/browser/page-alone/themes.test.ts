import { describe, expect, it } from 'vitest';
import { axeFindings } from '../axe-findings.ts';
import * as plans from '../example-plans.ts';
import { headRead, setUpsOffered } from '../example-set-ups.ts';
import * as examples from '../example-states.ts';
import { sharedPage } from './shared-page.ts';

const PLACES = [
  ['plan', plans.examplePlanBuilt],
  ['sweep', examples.resultNotTrue],
  ['tap', examples.tapLive],
  ['set-ups', headRead],
  ['set-ups', setUpsOffered],
  ['proof', examples.resultNotTrue],
  ['devices', examples.faultsStanding],
] as const;

describe('light, dark and sunlight', () => {
  const shared = sharedPage();

  it.each(PLACES)(
    '%s is readable in each',
    async (place, make) => {
      const { page, close } = await shared.open({ state: make(), place });
      await page.locator(`${place}-place`).waitFor();
      await page.waitForTimeout(200);
      const grounds = new Set<string>();
      for (const theme of ['light', 'dark', 'sunlight']) {
        await page.evaluate((to) => document.documentElement.setAttribute('data-theme', to), theme);
        expect(await axeFindings(page), theme).toEqual([]);
        const { ink, ground } = await page.evaluate(() => {
          const style = getComputedStyle(document.documentElement);
          return { ink: style.color, ground: style.backgroundColor };
        });
        grounds.add(ground);
        expect(contrast(ink, ground), `${theme}: ${ink} on ${ground}`).toBeGreaterThanOrEqual(7);
      }
      expect(grounds.size).toBe(3);
      await close();
    },
    60_000,
  );

  it('what the system asks for holds where nothing was chosen', async () => {
    const { page, close } = await shared.open({ state: examples.tapLive(), place: 'tap' });
    await page.emulateMedia({ colorScheme: 'dark' });
    const ground = () =>
      page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    expect(await ground()).toBe('rgb(20, 24, 26)');
    await page.evaluate(() => document.documentElement.setAttribute('data-theme', 'light'));
    expect(await ground()).toBe('rgb(216, 220, 210)');
    await close();
  });
});

/** WCAG 2.2, contrast ratio of relative luminances. */
function contrast(one: string, other: string): number {
  const [a, b] = [luminance(one), luminance(other)];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

function luminance(rgb: string): number {
  const [red, green, blue] = (rgb.match(/\d+/g) ?? []).slice(0, 3).map((part) => {
    const share = Number(part) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}
