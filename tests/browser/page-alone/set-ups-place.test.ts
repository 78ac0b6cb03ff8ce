import { describe, expect, it } from 'vitest';
import { headRead, partProved, setUpsOffered } from '../example-set-ups.ts';
import { sharedPage } from './shared-page.ts';

describe('the Set-ups place', () => {
  const shared = sharedPage();

  it('offers all twelve by a picture of their own', async () => {
    const { page, commands, close } = await shared.open({
      state: setUpsOffered(),
      place: 'set-ups',
    });
    const rows = page.locator('.set-up-row');
    await expect.poll(() => rows.count()).toBe(12);
    const strokes = await rows.locator('path').evaluateAll((all) =>
      all.map((path) => {
        const { width, height } = (path as SVGGraphicsElement).getBBox();
        return { d: path.getAttribute('d'), isDrawn: width > 20 && height > 15 };
      }),
    );
    expect(strokes.every(({ isDrawn }) => isDrawn)).toBe(true);
    expect(new Set(strokes.map(({ d }) => d)).size).toBe(12);
    await rows.filter({ hasText: 'four-jaw' }).click();
    await expect.poll(() => commands).toEqual([{ kind: 'choose set-up', name: 'four-jaw' }]);
    await close();
  });

  it('says of a head what to move, draws it, and takes the next reading at its place', async () => {
    const { page, commands, close } = await shared.open({ state: headRead(), place: 'set-ups' });
    const answer = page.locator('set-up-result');
    await expect.poll(() => answer.innerText()).toContain('Top of the head forward, toward you');
    expect(await answer.innerText()).toContain('not true');
    expect(await page.locator('.set-up-plot circle').count()).toBe(8);
    await page.fill('#capture', '0.0002');
    await page.press('#capture', 'Enter');
    await expect
      .poll(() => commands)
      .toEqual([
        expect.objectContaining({ kind: 'take set-up reading', at: '0', keyed: '0.0002' }),
      ]);
    await page.getByRole('button', { name: 'Keep in the record' }).click();
    await expect.poll(() => commands.at(-1)).toEqual({ kind: 'keep set-up' });
    await close();
  });

  it('offers what to change after a part, shows it kept, and turns the bar round', async () => {
    const { page, commands, close } = await shared.open({ state: partProved(), place: 'set-ups' });
    await page.getByRole('button', { name: 'Aim the next vise so, stack right' }).click();
    await expect.poll(() => commands.at(-1)).toEqual({ kind: 'aim by part', stack: 'right' });
    await page.getByRole('button', { name: 'Bar is turned end for end' }).click();
    await expect.poll(() => commands.at(-1)).toEqual({ kind: 'turn set-up round' });
    expect(await page.locator('.set-ups-kept').innerText()).toContain('The part is 7°');
    await close();
  });
});
