import type { BenchState } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../axe-findings.ts';
import * as plans from '../example-plans.ts';
import { realDevice } from '../example-ports.ts';
import { EXAMPLE_JOB } from '../example-proof.ts';
import { replayed, replayedWhatIf } from '../example-replays.ts';
import * as setUps from '../example-set-ups.ts';
import * as examples from '../example-states.ts';
import type { AloneOptions } from './page-without-service.ts';
import { sharedPage } from './shared-page.ts';

const SIZES = [
  { width: 1920, height: 1080 },
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 390, height: 844 },
];

const access = {
  pairingCode: '482915',
  addresses: ['http://192.168.1.20:4173'],
  tablets: [{ id: 'a', name: 'tablet at the handwheel' }],
  triesLeft: 5,
};

const SCREENS: [string, () => BenchState, Partial<AloneOptions>][] = [
  ['plan, nothing said', plans.emptyPlanPlace, { place: 'plan' }],
  ['plan, built', plans.examplePlanBuilt, { place: 'plan' }],
  ['plan, a wrong stack', plans.examplePlanWrong, { place: 'plan' }],
  ['plan, steep and to be decided', plans.examplePlanSteep, { place: 'plan' }],
  ['plan, cannot be built', plans.examplePlanTooThin, { place: 'plan' }],
  ['plan, only watching', plans.examplePlanMade, { place: 'plan', role: 'watcher' }],
  ['sweep, nothing set', examples.nothingSet, {}],
  ['sweep, stations half taken', examples.stationsMidSweep, {}],
  ['sweep, keyed by hand', examples.keyedMidSweep, {}],
  ['sweep, not true', examples.resultNotTrue, {}],
  ['sweep, true at tight', examples.trueAtTight, {}],
  ['sweep, only watching', examples.resultNotTrue, { role: 'watcher' }],
  ['tap, to be parked', examples.resultNotTrue, { place: 'tap' }],
  ['tap, mallet working', examples.tapLive, { place: 'tap' }],
  ['proof, kept jobs', examples.resultNotTrue, { place: 'proof' }],
  ['proof, bin', examples.resultNotTrue, { place: 'proof/bin' }],
  ['proof, a job opened', examples.resultNotTrue, { place: `proof/job/${EXAMPLE_JOB}` }],
  ['proof, a job only watched', examples.resultNotTrue, { place: 'proof/job/x', role: 'watcher' }],
  ['proof, sweeps compared', examples.resultNotTrue, { place: 'proof/compare/a:1,a:2,a:3' }],
  ['proof, the vise', examples.resultNotTrue, { place: 'proof/vise' }],
  ['set-ups, offered', setUps.setUpsOffered, { place: 'set-ups' }],
  ['set-ups, a head read', setUps.headRead, { place: 'set-ups' }],
  ['set-ups, a part proved', setUps.partProved, { place: 'set-ups' }],
  ['devices, in trouble', examples.faultsStanding, { place: 'devices', access }],
  ['devices, demo', examples.demoReady, { place: 'devices' }],
  ['devices, one live on a port of several', realDevice, { place: 'devices', access }],
  ['replay, sweep', replayed, { search: '?replay=job-7' }],
  ['replay, what if', replayedWhatIf, { search: '?replay=job-7&sweep=1' }],
  ['replay, tap', replayed, { search: '?replay=job-7', place: 'tap' }],
  ['replay, only watching', replayed, { search: '?replay=job-7', role: 'watcher' }],
];

describe('every place at every size', () => {
  const shared = sharedPage();

  it.each(SCREENS)(
    '%s',
    async (_name, make, options) => {
      const alone = await shared.open({ state: make(), ...options });
      await alone.page.evaluate(() => {
        for (const details of document.querySelectorAll('details')) details.open = true;
      });
      for (const size of SIZES) {
        await alone.page.setViewportSize(size);
        await alone.page.waitForTimeout(120);
        const found = await alone.page.evaluate(measure);
        expect(found, `${size.width} x ${size.height}`).toEqual({
          overflowPx: 0,
          smallText: [],
          smallTargets: [],
        });
      }
      expect(await axeFindings(alone.page)).toEqual([]);
      expect(alone.consoleErrors).toEqual([]);
      await alone.close();
    },
    60_000,
  );

  it('the one number is as tall as can be read at two metres', async () => {
    const alone = await shared.open({ state: examples.tapLive(), place: 'tap' });
    const sizePx = await alone.page
      .locator('.answer-number .number')
      .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
    expect(sizePx).toBeGreaterThanOrEqual(96);
    await alone.close();
  });
});

/** Runs in the page. */
function measure() {
  const visible = (element: Element) => {
    const box = element.getBoundingClientRect();
    return box.width > 0 && box.height > 0 && getComputedStyle(element).visibility === 'visible';
  };
  const name = (element: Element) =>
    `${element.tagName.toLowerCase()} "${element.textContent?.trim().slice(0, 30)}"`;
  const smallText: string[] = [];
  const smallTargets: string[] = [];
  for (const element of document.body.querySelectorAll('*')) {
    const hasText = [...element.childNodes].some(
      (node) => node.nodeType === Node.TEXT_NODE && node.textContent?.trim(),
    );
    const sizePx = Number.parseFloat(getComputedStyle(element).fontSize);
    if (hasText && visible(element) && sizePx < 16) smallText.push(`${name(element)} ${sizePx} px`);
    if (!element.matches('a, button, input, select, summary') || !visible(element)) continue;
    const { width, height } = element.getBoundingClientRect();
    if (width < 47.9 || height < 47.9) smallTargets.push(`${name(element)} ${width} x ${height}`);
  }
  const { scrollWidth } = document.documentElement;
  return { overflowPx: Math.max(0, scrollWidth - innerWidth), smallText, smallTargets };
}
