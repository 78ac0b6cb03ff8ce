import { Comparison, checkerOf, Drift, JobDetail, Learned, ProofPage } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import * as proof from '../example-proof.ts';
import * as examples from '../example-states.ts';
import { sharedPage } from './shared-page.ts';

it.each([
  ['a page of jobs', ProofPage, proof.exampleProofPage()],
  ['a job', JobDetail, proof.exampleJobDetail()],
  ['a comparison', Comparison, proof.exampleComparison()],
  ['a drift', Drift, proof.exampleDrift()],
  ['what was learned', Learned, proof.exampleLearned()],
])('%s in these tests is what the service may send', (_name, schema, value) => {
  expect(checkerOf(schema).check(value)).toMatchObject({ ok: true });
});

describe('the Proof place', () => {
  const shared = sharedPage();
  const open = (place: string, change = {}) =>
    shared.open({ state: { ...examples.nothingSet(), ...change }, place });

  it('ticks two sweeps and lays them over each other', async () => {
    const { page, close, consoleErrors } = await open('proof');
    await page.getByRole('button', { name: '2 sweeps of Job 12, W-2001' }).click();
    // The second has no line and cannot be laid over another.
    expect(await page.locator('.proof-tick input').first().isDisabled()).toBe(true);
    await page.locator('.proof-tick input').nth(1).check();
    await page.getByText('Tick another').waitFor();
    await page.getByRole('button', { name: '2 sweeps of Job 11' }).click();
    await page.locator('.proof-tick input').nth(3).check();
    await page.getByRole('link', { name: 'Lay them over each other' }).click();
    await page.getByRole('heading', { name: '3 sweeps over each other' }).waitFor();
    expect(page.url()).toContain('#proof/compare/job-12:1,job-11:1');
    expect(consoleErrors).toEqual([]);
    await close();
  });

  it('asks before a job goes to the bin, and again before the bin is emptied', async () => {
    const { page, commands, close } = await open('proof');
    const toBin = page.getByRole('button', { name: 'To the bin' });
    // The running job has no such button.
    await expect.poll(() => toBin.count()).toBe(2);
    await toBin.first().click();
    expect(commands).toEqual([]);
    await page.getByRole('button', { name: 'Really to the bin' }).click();
    await expect.poll(() => commands).toEqual([{ kind: 'bin jobs', jobs: ['job-11'] }]);
    await page.getByRole('link', { name: 'Bin (3)' }).click();
    await page.getByRole('button', { name: 'Empty the bin' }).click();
    expect(commands).toHaveLength(1);
    await page.getByRole('button', { name: 'Delete these 3 jobs for good' }).click();
    await expect.poll(() => commands.at(-1)).toEqual({ kind: 'empty bin' });
    await close();
  });

  it('writes a note by keyboard, initialled, and strikes one out with its reason', async () => {
    const { page, commands, close } = await open(`proof/job/${proof.EXAMPLE_JOB}`);
    const write = page.getByRole('button', { name: 'Write it down' });
    await page.getByLabel('New note').fill('Jaw wiped');
    expect(await write.isDisabled()).toBe(true);
    await page.getByLabel('About').selectOption('1');
    await page.getByLabel('Who writes').fill('A. B.');
    await page.keyboard.press('Enter');
    await expect
      .poll(() => commands)
      .toEqual([{ kind: 'write note', job: 'job-12', sweep: 1, by: 'A. B.', text: 'Jaw wiped' }]);
    await page.getByRole('button', { name: 'Strike out note 1' }).click();
    await page.getByLabel('Why is it wrong?').fill('other jaw');
    await page.getByRole('button', { name: 'Strike it out, A. B.' }).click();
    await expect
      .poll(() => commands.at(-1))
      .toEqual({ kind: 'strike note', job: 'job-12', number: 1, by: 'A. B.', why: 'other jaw' });
    expect(await page.locator('s').textContent()).toBe('Wrong block.');
    await close();
  });

  it('takes the repeatability over only when told to', async () => {
    const { page, commands, close } = await open(`proof/job/${proof.EXAMPLE_JOB}`);
    await page.getByRole('button', { name: /^Reckon with/ }).waitFor();
    expect(commands).toEqual([]);
    await page.getByRole('button', { name: /^Reckon with/ }).click();
    await expect
      .poll(() => commands)
      .toMatchObject([
        { kind: 'change setup', change: { indicator: { repeatabilityMm: 0.00105 } } },
      ]);
    await close();
  });

  it('is read at two metres: job, verdict and figure', async () => {
    const { page, close } = await shared.open({
      state: examples.nothingSet(),
      place: `proof/job/${proof.EXAMPLE_JOB}`,
      size: { width: 1920, height: 1080 },
    });
    for (const [selector, leastPx] of [
      ['.proof-job-number', 96],
      ['.proof-job-figure', 96],
      ['.proof-job-verdict', 64],
    ] as const) {
      const px = await page
        .locator(selector)
        .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
      expect(px, selector).toBeGreaterThanOrEqual(leastPx);
    }
    await close();
  });
});

describe('aiming off at the Tap place', () => {
  const shared = sharedPage();

  it('is offered with its evidence and acts only once it is taken', async () => {
    const state = examples.resultNotTrue();
    const { page, commands, close, change } = await shared.open({ state, place: 'tap' });
    await page.getByText('(9 jobs). Aim off by').waitFor();
    expect(commands).toEqual([]);
    await page.getByRole('button', { name: /^Aim off by/ }).click();
    const aimOff = { stage: 'nipped', arcsec: -12, spreadArcsec: 5, jobs: 9 } as const;
    await expect.poll(() => commands).toEqual([{ kind: 'change setup', change: { aimOff } }]);
    change({ setup: { ...state.setup, aimOff } });
    await page.getByText('Aimed off by 0° 0′ 12″ clockwise at nipped').waitFor();
    await page.getByRole('button', { name: 'Aim at true again' }).click();
    await expect
      .poll(() => commands.at(-1))
      .toEqual({ kind: 'change setup', change: { aimOff: null } });
    await close();
  });
});
