import type { BenchState } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import * as plans from '../example-plans.ts';
import { sharedPage } from './shared-page.ts';

describe('jobs and sets are kept', () => {
  const shared = sharedPage();
  const open = (state: BenchState) => shared.open({ state, place: 'plan' });

  it('keeps at once, but asks again before the plan on screen is dropped', async () => {
    const { page, commands, close } = await open(plans.examplePlanMade());
    await page.getByRole('button', { name: 'Keep this job' }).click();
    await page.getByRole('button', { name: 'For the other hand' }).click();
    expect(commands).toEqual([{ kind: 'keep job' }]);
    await page.getByRole('button', { name: 'Drop the plan on screen' }).click();
    await expect
      .poll(() => commands.at(-1))
      .toEqual({ kind: 'duplicate job', id: 'bracket-1', otherHand: true });
    await close();
  });

  it('a file that is no job is refused by name, a job is opened', async () => {
    const state = plans.emptyPlanPlace();
    const { page, commands, close } = await open(state);
    const give = (text: string) =>
      page.locator('input[type=file]').setInputFiles({
        name: 'bracket.json',
        mimeType: 'application/json',
        buffer: Buffer.from(text),
      });
    await give('{"taptrueJob":1}');
    await page.getByText('bracket.json is not a job').waitFor();
    expect(commands).toEqual([]);
    const file = { taptrueJob: 1 as const, question: state.plan.question, taken: [] };
    await give(JSON.stringify(file));
    await expect.poll(() => commands).toEqual([{ kind: 'import job', file }]);
    await close();
  });

  it('a shipped set is copied under an id of its own and chosen', async () => {
    const { page, commands, close } = await open(plans.examplePlanMade());
    await page.getByText('Blocks of this set').click();
    await page.getByRole('button', { name: 'Copy as your own' }).click();
    await expect
      .poll(() => commands)
      .toMatchObject([
        { kind: 'keep set', set: { id: 'inch-81-own', unit: 'in' } },
        { kind: 'change plan', change: { setId: 'inch-81-own' } },
      ]);
    await close();
  });

  it('in a set of the shop’s own a block is struck off and certified', async () => {
    const state = plans.examplePlanMade();
    const set = {
      ...state.sets.sets[0]!.set,
      id: 'inch-81-own',
      blocks: [{ size: '0.1001' }, { size: '0.450' }],
    };
    const { page, commands, close } = await open({
      ...state,
      plan: { ...state.plan, question: { ...state.plan.question, setId: set.id } },
      sets: { sets: [{ set, own: true, pieces: 2 }] },
    });
    await page.getByText('Blocks of this set').click();
    await page
      .getByRole('group', { name: 'Blocks of' })
      .last()
      .getByRole('button', { name: '0.450' })
      .click();
    await page.getByRole('button', { name: 'Strike 0.450 off' }).click();
    const field = page.getByLabel('Certified length of 0.450 less engraved, µin');
    await field.fill('-3');
    await field.press('Tab');
    await expect
      .poll(() => commands)
      .toMatchObject([
        {
          kind: 'keep set',
          set: { blocks: [{ size: '0.1001' }, { size: '0.450', struck: true }] },
        },
        {
          kind: 'keep set',
          set: { blocks: [{ size: '0.1001' }, { size: '0.450', deviationUin: -3 }] },
        },
      ]);
    await close();
  });
});
