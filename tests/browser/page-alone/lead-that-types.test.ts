import type { FaultCode } from '@taptrue/protocol';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../axe-findings.ts';
import * as examples from '../example-states.ts';
import { sharedPage } from './shared-page.ts';

/** As a lead does: every key at once after the other, then Enter or Tab. */
async function leadSends(page: Page, text: string, ending = 'Enter'): Promise<void> {
  await page.evaluate(
    ([characters, last]) => {
      const target = document.activeElement ?? document.body;
      const press = (key: string) => {
        const init = { key, code: `Digit${key}`, bubbles: true, cancelable: true };
        const isTaken = !target.dispatchEvent(new KeyboardEvent('keydown', init));
        if (isTaken) return;
        if (key === 'Enter' && target instanceof HTMLButtonElement) target.click();
        if (key.length === 1 && target instanceof HTMLInputElement) {
          target.value += key;
          target.dispatchEvent(new InputEvent('input', { bubbles: true }));
        }
      };
      for (const character of characters) press(character);
      if (last) press(last);
    },
    [text, ending] as const,
  );
}

describe('a lead that types', () => {
  const shared = sharedPage();

  it('is taken where the box is chosen, and told', async () => {
    const { page, commands, close } = await shared.open({ state: examples.keyedMidSweep() });
    await page.getByLabel('Reading, in').focus();
    await leadSends(page, '-0.0015');
    await expect
      .poll(() => commands)
      .toEqual([{ kind: 'take station', keyed: '-0.0015', lead: true }]);
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
    await expect
      .poll(() => commands)
      .toEqual([{ kind: 'take station', keyed: '0.0015', lead: true }]);
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

/** Hands type thousandths here. */
function handsTypeThousandths() {
  const state = examples.keyedMidSweep();
  const keyedAs = { kind: 'thousandths', unit: 'in' } as const;
  return { ...state, setup: { ...state.setup, keyedAs } };
}

/** Whether the last of its buttons can be pressed where it lies on the screen, nothing over it. */
function isInSight(asked: Locator): Promise<boolean> {
  return asked
    .getByRole('button')
    .last()
    .evaluate((element) => {
      const { left, top, width, height } = element.getBoundingClientRect();
      return element.contains(document.elementFromPoint(left + width / 2, top + height / 2));
    });
}

const refusal = (code: FaultCode, what: string) =>
  ({ ok: false, fault: { code, what, got: '0.1250', remedy: 'Say which.' } }) as const;

describe('a lead that types lengths where hands type thousandths', () => {
  const shared = sharedPage();
  const BOX = 'Reading, thousandths of an inch';

  it.each([
    ['0.1250', 'Enter'],
    ['0,1250', 'Enter'],
    ['12.34', 'Tab'],
    ['-0,0005', 'Tab'],
  ])('%s ended by %s is sent as a lead’s, the hand’s next one is not', async (text, ending) => {
    const { page, commands, close } = await shared.open({ state: handsTypeThousandths() });
    await page.getByLabel(BOX).focus();
    await leadSends(page, text, ending);
    await expect.poll(() => commands).toEqual([{ kind: 'take station', keyed: text, lead: true }]);
    await page.keyboard.type('1.5', { delay: 70 });
    await page.keyboard.press('Enter');
    await expect.poll(() => commands[1]).toEqual({ kind: 'take station', keyed: '1.5' });
    await close();
  });

  it('and sends no key after them is told from a hand when Take is pressed', async () => {
    const { page, commands, close } = await shared.open({ state: handsTypeThousandths() });
    await page.getByLabel(BOX).focus();
    await leadSends(page, '12.34', '');
    await page.getByRole('button', { name: 'Take' }).first().click();
    await expect
      .poll(() => commands)
      .toEqual([{ kind: 'take station', keyed: '12.34', lead: true }]);
    await close();
  });

  it('asks what the display shows, says it to the bench, and sends the reading again', async () => {
    const { page, commands, answerWith, close } = await shared.open({
      state: handsTypeThousandths(),
    });
    answerWith(refusal('lead-unit-not-set', 'A lead typed this reading.'));
    await page.getByLabel(BOX).focus();
    await leadSends(page, '0.1250');
    const asked = page.getByRole('group', { name: 'The reading that was not taken' });
    await asked.getByText('What does the display of the indicator show?').waitFor();
    expect(await page.getByText('The last one came from a lead').count()).toBe(0);
    expect(await isInSight(asked)).toBe(true);
    const pictures = process.env.LEAD_PICTURES;
    for (const [width, height] of [
      [1920, 1080],
      [1280, 800],
      [1024, 768],
      [390, 844],
    ] as const) {
      await page.setViewportSize({ width, height });
      await asked.evaluate((element) => {
        element.closest('keyed-doubt')?.scrollIntoView({ block: 'nearest' });
      });
      await page.waitForTimeout(100);
      expect(await isInSight(asked), `${width}`).toBe(true);
      const overflow = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overflow, `${width}`).toBeLessThanOrEqual(0);
      if (pictures) await page.screenshot({ path: `${pictures}/asked-${width}.png` });
      const buttons = await asked.getByRole('button').all();
      for (const button of buttons) {
        expect((await button.boundingBox())?.height).toBeGreaterThanOrEqual(44);
      }
    }
    expect(await axeFindings(page, 'capture-box')).toEqual([]);
    answerWith({ ok: true, note: '' });
    await asked.getByRole('button', { name: '0.1250 in' }).click();
    await expect
      .poll(() => commands)
      .toEqual([
        { kind: 'take station', keyed: '0.1250', lead: true },
        { kind: 'change setup', change: { leadUnit: 'in' } },
        { kind: 'take station', keyed: '0.1250', lead: true },
      ]);
    await page.getByText('The last one came from a lead').waitFor();
    expect(await asked.count()).toBe(0);
    await close();
  });

  it('typed too fine for a hand: a press says that a lead typed it', async () => {
    const { page, commands, answerWith, close } = await shared.open({
      state: handsTypeThousandths(),
    });
    answerWith(refusal('keyed-too-fine', 'Those are never typed so fine.'));
    await page.getByLabel(BOX).focus();
    await page.keyboard.type('0.1250', { delay: 70 });
    await page.keyboard.press('Enter');
    answerWith({ ok: true, note: '' });
    await page.getByRole('button', { name: 'A lead typed it' }).click();
    await expect
      .poll(() => commands)
      .toEqual([
        { kind: 'take station', keyed: '0.1250' },
        { kind: 'take station', keyed: '0.1250', lead: true },
      ]);
    await close();
  });

  it('doubted for its size: taken all the same only by a press of its own', async () => {
    const { page, commands, answerWith, close } = await shared.open({
      state: handsTypeThousandths(),
    });
    answerWith(refusal('keyed-doubted', 'This is 25.4 times the reading before it.'));
    await page.getByLabel(BOX).focus();
    await leadSends(page, '3.175');
    await page.getByRole('button', { name: 'Take 3.175 all the same' }).waitFor();
    // The key of the lead pressed again is asked about again: it says nothing of the unit.
    await leadSends(page, '3.175');
    await expect.poll(() => commands).toHaveLength(2);
    expect(commands.every((command) => !('sure' in command))).toBe(true);
    await page.getByRole('button', { name: 'Take 3.175 all the same' }).click();
    await expect
      .poll(() => commands[2])
      .toEqual({ kind: 'take station', keyed: '3.175', lead: true, sure: true });
    await page.getByRole('button', { name: 'Leave it out' }).click();
    expect(
      await page.getByLabel(BOX).evaluate((element) => element === document.activeElement),
    ).toBe(true);
    expect(commands).toHaveLength(3);
    await close();
  });
});
