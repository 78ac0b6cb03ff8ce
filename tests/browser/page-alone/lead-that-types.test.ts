import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import * as examples from '../example-states.ts';
import { sharedPage } from './shared-page.ts';

/** As a lead does: every key at once after the other, then Enter. */
async function leadSends(page: Page, text: string): Promise<void> {
  await page.evaluate((characters) => {
    const target = document.activeElement ?? document.body;
    const press = (key: string) => {
      const init = { key, code: `Digit${key}`, bubbles: true, cancelable: true };
      const isTaken = !target.dispatchEvent(new KeyboardEvent('keydown', init));
      if (isTaken) return;
      if (key === 'Enter' && target instanceof HTMLButtonElement) target.click();
      if (key.length === 1 && target instanceof HTMLInputElement) target.value += key;
    };
    for (const character of characters) press(character);
    press('Enter');
  }, text);
}

describe('a lead that types', () => {
  const shared = sharedPage();

  it('is taken where the box is chosen, and told', async () => {
    const { page, commands, close } = await shared.open({ state: examples.keyedMidSweep() });
    await page.getByLabel('Reading, in').focus();
    await leadSends(page, '-0.0015');
    await expect.poll(() => commands).toEqual([{ kind: 'take station', keyed: '-0.0015' }]);
    await page.getByText('The last one came from a lead').waitFor();
    await close();
  });

  it('presses no button where the box is not chosen; the box is then chosen, and it is said', async () => {
    const { page, commands, close } = await shared.open({ state: examples.keyedMidSweep() });
    await page.getByRole('button', { name: 'Abandon it' }).focus();
    await leadSends(page, '0.0015');
    await page.getByText('A lead sent a reading while the box was not chosen').waitFor();
    const box = page.getByLabel('Reading, in');
    expect(await box.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(commands).toEqual([]);
    await leadSends(page, '0.0015');
    await expect.poll(() => commands).toEqual([{ kind: 'take station', keyed: '0.0015' }]);
    await close();
  });

  it('a hand that presses Enter on a button presses it', async () => {
    const { page, commands, close } = await shared.open({ state: examples.keyedMidSweep() });
    await page.getByRole('button', { name: 'Abandon it' }).focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => commands.map(({ kind }) => kind)).toEqual(['abandon sweep']);
    await close();
  });

  it('pasted text is not taken, and that is said', async () => {
    const { page, commands, close } = await shared.open({ state: examples.keyedMidSweep() });
    const box = page.getByLabel('Reading, in');
    await box.focus();
    const isRefused = await box.evaluate((element) => {
      const data = new DataTransfer();
      data.setData('text/plain', '0.5');
      const paste = new ClipboardEvent('paste', {
        clipboardData: data,
        bubbles: true,
        cancelable: true,
      });
      return !element.dispatchEvent(paste);
    });
    expect(isRefused).toBe(true);
    await page.getByText('Pasted text is not taken').waitFor();
    expect(commands).toEqual([]);
    await close();
  });

  it('a key held down does not double its digit', async () => {
    const { page, close } = await shared.open({ state: examples.keyedMidSweep() });
    const box = page.getByLabel('Reading, in');
    await box.focus();
    for (let held = 0; held < 5; held += 1) await page.keyboard.down('5');
    await page.keyboard.up('5');
    expect(await box.inputValue()).toBe('5');
    await close();
  });
});
