import type { Page } from 'playwright-core';

/** Tabs pressed before giving up: more than there are things to focus on the longest place. */
const MOST_TABS = 160;

/** Goes to the control of this name by Tab alone, as a user without a mouse does. */
export async function tabTo(page: Page, name: string): Promise<void> {
  for (let tabs = 0; tabs < MOST_TABS; tabs += 1) {
    const focused = await page.evaluate(() => {
      const element = document.activeElement;
      if (element === null || element === document.body) return '';
      const label = element instanceof HTMLInputElement ? element.labels?.[0]?.textContent : '';
      return `${element?.textContent ?? ''} ${label ?? ''} ${element?.getAttribute('aria-label') ?? ''}`;
    });
    if (focused.replace(/\s+/g, ' ').includes(name)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`"${name}" cannot be reached by Tab`);
}

export async function pressByKeyboard(page: Page, name: string): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press('Enter');
}

/** Types into the field of this name, over what stands there, and leaves it by Tab. */
export async function typeInto(page: Page, name: string, text: string): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press('ControlOrMeta+A');
  await page.keyboard.type(text);
  await page.keyboard.press('Tab');
}
