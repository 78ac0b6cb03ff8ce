import { describe, expect, it } from 'vitest';
import * as examples from '../example-states.ts';
import { sharedPage } from './shared-page.ts';

describe('the answer and what limits it', () => {
  const shared = sharedPage();

  it('draws the vise, names the end that is higher on the dial, and how much is exaggerated', async () => {
    const { page, change, close } = await shared.open({ state: examples.resultNotTrue() });
    await page.locator('vise-picture svg .jaw').first().waitFor();
    const words = () => page.locator('vise-picture').textContent();
    await expect.poll(words).toContain('left: nearer you, higher on the dial');
    expect(await words()).toMatch(/lean drawn \d+ times/);
    const { setup } = examples.resultNotTrue();
    change({ setup: { ...setup, rises: 'away' } });
    await expect.poll(words).toContain('right: farther from you, higher on the dial');
    change({ setup: { ...setup, rises: null } });
    await expect.poll(words).toContain('which way it leans is not known');
    await close();
  });

  it('takes back verdict, notch and mallet once the vise was touched, and asks for a sweep', async () => {
    const state = examples.resultNotTrue();
    const { page, change, close } = await shared.open({ state });
    await page.locator('vise-picture .mallet').waitFor();
    expect(await page.locator('.gauge-stop strong').count()).toBe(1);
    change({ sweep: { ...state.sweep!, outdated: 'The vise was tapped since this sweep.' } });
    await expect.poll(() => page.locator('.answer-word').textContent()).toContain('sweep again');
    expect(await page.locator('vise-picture .mallet').count()).toBe(0);
    expect(await page.locator('.gauge-stop strong').count()).toBe(0);
    expect(await page.locator('.act-now').allInnerTexts()).toEqual([
      expect.stringContaining('Sweep again'),
    ]);
    await close();
  });

  it('says beside the answer that a nudge was skipped, and in the sheet what the ± lacks', async () => {
    const state = examples.resultNotTrue();
    const sweep = { ...state.sweep!, nudgesSkipped: ['y' as const] };
    const { page, close } = await shared.open({ state: { ...state, sweep } });
    const cautions = page.locator('result-cautions');
    await cautions.getByText('The saddle nudge was skipped').waitFor();
    const box = await cautions.boundingBox();
    expect(box!.y + box!.height, 'in the first view').toBeLessThan(800);
    const lacks = await page.locator('.not-contained').textContent();
    expect(lacks).toContain('permissible error (not given)');
    expect(lacks).toContain('stack and bar, never');
    await close();
  });

  it('answers an empty capture box in words', async () => {
    const { page, commands, close } = await shared.open({ state: examples.keyedMidSweep() });
    await page.getByRole('button', { name: 'Take' }).first().click();
    await page.getByText('Nothing is typed yet').waitFor();
    expect(commands).toEqual([]);
    await close();
  });
});
