import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { Hands } from './hands.ts';
import { closeBrowser, openPage, type RunningBench, runBench, until } from './running-bench.ts';

let bench: RunningBench;
afterEach(() => bench.close());
afterAll(closeBrowser);

/** Sweeps and taps at tight until the bench says so; the one way of sweeping is the test's own. */
async function workAtTight(hands: Hands, sweepOnce: () => Promise<void>): Promise<void> {
  await hands.setStage('tight');
  for (let round = 0; round < 6; round += 1) {
    await hands.goTo('Sweep');
    await hands.press(bench.state().sweep === null ? 'Begin the sweep' : 'Sweep again');
    await until('the sweep begins', () => bench.state().sweep?.state === 'being taken');
    await sweepOnce();
    await until('the sweep has ended', () => bench.state().sweep?.state === 'ended');
    if (bench.state().sweep?.result?.verdict === 'true') return;
    await hands.setStage('nipped');
    await hands.goTo('Tap');
    await hands.tapUntilTold();
    await hands.setStage('tight');
  }
}

describe('the other ways of working, on the simulated bench', () => {
  it('stations, the reading taken from the device by the big button', async () => {
    bench = await runBench({ demo: true, demoSeed: 21 });
    const { page, complaints } = await openPage(bench.url);
    const hands = new Hands(page, bench);
    await hands.nudgeSaddle();
    await page
      .getByRole('group', { name: 'Positions are known by' })
      .getByRole('button', { name: 'stations' })
      .click();
    await until('stations are chosen', () => bench.state().setup.way === 'stations');
    const placeMm = () => bench.state().live.readout?.valueMm ?? Number.NaN;
    await workAtTight(hands, async () => {
      for (let station = 0; station < 5; station += 1) {
        const beforeMm = placeMm();
        await hands.press('To the next station');
        // One place counts once: the hand waits until the readout tells the next one.
        if (station > 0)
          await until('the table has moved', () => Math.abs(placeMm() - beforeMm) > 1);
        await page.waitForTimeout(200);
        await hands.press('Take');
        await until('it is taken', () => (bench.state().sweep?.points.length ?? 0) > station);
      }
    });
    expect(bench.state().bench.job.standing).toBe('true');
    expect(bench.state().sweep!.points.map((point) => point.xMm)).toEqual([
      0, 31.75, 63.5, 95.25, 127,
    ]);
    expect(complaints).toEqual([]);
  }, 120_000);

  it('constant feed between two marks', async () => {
    bench = await runBench({ demo: true, demoSeed: 33 });
    const { page, complaints } = await openPage(bench.url);
    const hands = new Hands(page, bench);
    await hands.nudgeSaddle();
    await page
      .getByRole('group', { name: 'Positions are known by' })
      .getByRole('button', { name: 'constant feed' })
      .click();
    await until('feed is chosen', () => bench.state().setup.way === 'feed');
    await workAtTight(hands, async () => {
      await hands.press('Go to left end');
      await page.waitForTimeout(200);
      await hands.press('Traverse fast');
      await hands.press('First mark passed');
      await until('the table stands', () => bench.state().demo?.traversing === false);
      await hands.press('Last mark passed');
    });
    expect(bench.state().bench.job.standing).toBe('true');
    expect(complaints).toEqual([]);
  }, 120_000);
});
