import type { BenchState } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import * as plans from '../example-plans.ts';
import { sharedPage } from './shared-page.ts';

describe('the stack is built and re-added', () => {
  const shared = sharedPage();
  const open = (state: BenchState) => shared.open({ state, place: 'plan' });

  it('works the sum from the last decimal up', async () => {
    const { page, close } = await open(plans.examplePlanMade());
    const worked = (await page.locator('.worked td').allTextContents()).map((text) => text.trim());
    // 0.6526 - 0.1006 - 0.102 - 0.450 = 0, by hand.
    expect(worked).toEqual([
      '0.6526',
      '− 0.1006',
      '0.5520',
      '− 0.102',
      '0.4500',
      '− 0.450',
      '0.0000',
    ]);
    await close();
  });

  it('blocks are keyed one by one or several at once, and taken out again', async () => {
    const { page, commands, close } = await open(plans.examplePlanWrong());
    const box = page.getByLabel('Block taken, as engraved');
    await box.fill('0.050 0.050');
    await box.press('Enter');
    await page.getByRole('button', { name: 'Take 0.106 out again' }).click();
    await expect
      .poll(() => commands)
      .toEqual([
        { kind: 'blocks taken', blocks: ['0.450', '0.106', '0.102', '0.050', '0.050'] },
        { kind: 'blocks taken', blocks: ['0.450', '0.102'] },
      ]);
    expect(await box.inputValue()).toBe('');
    await close();
  });

  it('blocks are ticked off in the case', async () => {
    const { page, commands, close } = await open(plans.examplePlanMade());
    await page.getByText('Tick them off in the case instead').click();
    await page.getByRole('button', { name: '0.1006', exact: true }).first().click();
    await expect.poll(() => commands).toEqual([{ kind: 'blocks taken', blocks: ['0.1006'] }]);
    await close();
  });

  it('the height under the other roll may be asked for, and left free again', async () => {
    const { page, commands, close } = await open(plans.examplePlanBothRolls());
    const low = page.getByLabel('Height under the other roll');
    await low.fill('0.5in');
    await low.press('Tab');
    await low.fill('');
    await low.press('Tab');
    await expect
      .poll(() => commands)
      .toEqual([
        { kind: 'change plan', change: { lowStack: '0.5in' } },
        { kind: 'change plan', change: { lowStack: null } },
      ]);
    await close();
  });

  it('blocks under both rolls are re-added roll by roll', async () => {
    const { page, commands, close } = await open(plans.examplePlanBothRolls());
    await page.getByLabel('Block taken, as engraved').nth(1).fill('0.1001');
    await page.getByLabel('Block taken, as engraved').nth(1).press('Enter');
    await expect
      .poll(() => commands)
      .toEqual([{ kind: 'blocks taken', blocks: ['0.1001'], under: 'other roll' }]);
    await close();
  });

  it('a wrong block stops the plan with what it was and what it would have made', async () => {
    const { page, close } = await open(plans.examplePlanWrong());
    const said = await page.getByRole('region', { name: 'Re-add' }).textContent();
    expect(said).toContain('does not add up');
    expect(said).toContain('the same figures, one decimal place apart');
    expect(await page.locator('#plan-why').textContent()).toContain('0.6526');
    expect(await page.getByRole('button', { name: 'Go on to the sweep' }).isDisabled()).toBe(true);
    await close();
  });

  it('a built plan goes on to the sweep', async () => {
    const { page, commands, close } = await open(plans.examplePlanBuilt());
    await page.getByRole('button', { name: 'Go on to the sweep' }).click();
    await expect.poll(() => new URL(page.url()).hash).toBe('#sweep');
    expect(commands).toEqual([{ kind: 'use plan' }]);
    await close();
  });

  it('on a phone the way on stands below the stack that adds up, too', async () => {
    const { page, commands, close } = await shared.open({
      state: plans.examplePlanBuilt(),
      place: 'plan',
      size: { width: 390, height: 844 },
    });
    await page
      .getByRole('region', { name: 'Re-add' })
      .getByRole('button', { name: 'Go on to the sweep' })
      .click();
    await expect.poll(() => commands).toEqual([{ kind: 'use plan' }]);
    await close();
  });

  it('what is known better than assumed goes into the budget', async () => {
    const { page, commands, close } = await open(plans.examplePlanMade());
    await page.getByText('What is assumed, and what you know better').click();
    await page.getByLabel('Seat of bar and stack, ±').fill('0.0001in');
    await page.getByLabel('Seat of bar and stack, ±').press('Tab');
    await expect.poll(() => commands).toHaveLength(1);
    const [sent] = commands;
    if (sent?.kind !== 'change plan') throw new Error('no change of the plan was sent');
    expect(sent.change.budget?.seatUm).toBeCloseTo(2.54, 9);
    await close();
  });
});
