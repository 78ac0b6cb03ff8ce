import { describe, expect, it } from 'vitest';
import * as parts from '../example-parts.ts';
import * as examples from '../example-states.ts';
import { sharedPage } from './shared-page.ts';

describe('the page draws what the service says', () => {
  const shared = sharedPage();

  it('shows the number as it came on the wire, and a changed one in its place', async () => {
    const state = examples.tapLive();
    const { page, change, close } = await shared.open({ state, place: 'tap' });
    const number = page.locator('.gauge-reading');
    await expect.poll(() => number.textContent()).toBe('−0.00040');
    change({ live: { ...state.live, indicator: parts.exampleReading(0.00123) } });
    await expect.poll(() => number.textContent()).toBe('+0.00123');
    await close();
  });

  it('draws a changed section: what remains, the sentence, the standing', async () => {
    const state = examples.tapLive();
    const { page, change, close } = await shared.open({ state, place: 'tap' });
    expect(await page.locator('.big-word').textContent()).toBe('keep tapping');
    change({
      tap: {
        ...state.tap!,
        standing: 'stop',
        remainingAtMalletMm: -0.00254,
        sentence: 'Stop: the needle rests in the notch.',
      },
    });
    await expect.poll(() => page.locator('.big-word').textContent()).toBe('stop');
    expect(await page.locator('.answer-number .number').textContent()).toBe('0.0001');
    expect(await page.locator('.answer-sentence').textContent()).toBe(
      'Stop: the needle rests in the notch.',
    );
    expect(await page.locator('.mallet').count()).toBe(0);
    await close();
  });

  it('moves the needle at once: nothing on the rule is eased', async () => {
    const state = examples.tapLive();
    const { page, change, close } = await shared.open({ state, place: 'tap' });
    const needle = page.locator('.needle');
    await expect.poll(() => needle.getAttribute('visibility')).toBe('visible');
    const eased = await page.evaluate(
      () =>
        [...document.querySelectorAll('straight-gauge *, vise-picture *')].filter((element) => {
          const style = getComputedStyle(element);
          return style.transitionDuration !== '0s' || style.animationName !== 'none';
        }).length,
    );
    expect(eased).toBe(0);
    const before = await needle.getAttribute('transform');
    change({ live: { ...state.live, indicator: parts.exampleReading(0.0008) } });
    await expect.poll(() => needle.getAttribute('transform')).not.toBe(before);
    const { at, from, to } = await page.evaluate(() => {
      const pin = document.querySelector('.needle')!.getBoundingClientRect();
      const rule = document.querySelector('.rule')!.getBoundingClientRect();
      const { notchFrom, notchTo } = document.querySelector<SVGElement>('.rule-body')!.dataset;
      return {
        at: (pin.left + pin.right) / 2 - rule.left,
        from: Number(notchFrom),
        to: Number(notchTo),
      };
    });
    expect(at, 'the reading to stop at stands in the notch').toBeGreaterThan(from);
    expect(at).toBeLessThan(to);
    await close();
  });

  it('says stale when readings stop though the service is there, and lost when it is gone', async () => {
    const tap = examples.tapLive();
    const state = { ...tap, live: { ...tap.live, staleAfterMs: 250 } };
    const alone = await shared.open({ state, place: 'tap', onlyOnce: true });
    const { page } = alone;
    const word = page.locator('.gauge-word');
    const bigWord = page.locator('.big-word');
    const stillToGo = page.locator('.answer-number .number.greyed');
    await expect.poll(() => word.textContent()).toBe('stale');
    expect(await page.locator('straight-gauge.greyed').count()).toBe(1);
    await expect.poll(() => bigWord.textContent()).toBe('stale');
    expect(await stillToGo.count()).toBe(1);
    expect(await page.locator('.answer-sentence').textContent()).toContain('Do not tap');
    alone.change({ live: tap.live });
    await expect.poll(() => word.textContent()).toBe('live');
    await expect.poll(() => bigWord.textContent()).toBe('keep tapping');
    expect(await stillToGo.count()).toBe(0);
    await alone.hangUp();
    await expect.poll(() => word.textContent()).toBe('lost');
    await expect.poll(() => bigWord.textContent()).toBe('lost');
    expect(await stillToGo.count()).toBe(1);
    expect(await page.locator('.needle').getAttribute('visibility')).toBe('hidden');
    expect(await page.locator('.lost-banner').textContent()).toContain('Connection lost.');
    expect(await page.getByRole('button', { name: 'Sweep again' }).isDisabled()).toBe(true);
    await alone.close();
  });

  it('tells what it has painted, at most ten times a second', async () => {
    const state = examples.tapLive();
    const { page, change, sent, close } = await shared.open({ state, place: 'tap' });
    const startMs = Date.now();
    for (let step = 0; step < 50; step += 1) {
      change({ live: { ...state.live, indicator: parts.exampleReading(step / 1e5) } });
      await page.waitForTimeout(10);
    }
    await page.waitForTimeout(150);
    const mostAllowed = (Date.now() - startMs) / 100 + 2;
    const painted = sent.map((text) => JSON.parse(text));
    expect(painted.length).toBeGreaterThan(1);
    expect(painted.length).toBeLessThanOrEqual(mostAllowed);
    expect(painted.every(({ type, visible }) => type === 'painted' && visible === true)).toBe(true);
    expect(painted.at(-1).sequence).toBe(51);
    await close();
  });

  it('marks every place SIMULATED while the bench is', async () => {
    const { page, close } = await shared.open({ state: examples.demoReady() });
    for (const place of ['Sweep', 'Tap', 'Devices']) {
      await page.getByRole('link', { name: place, exact: true }).click();
      expect(await page.locator('.simulated-band').isVisible(), place).toBe(true);
    }
    await close();
  });

  it('says that the service speaks another version instead of drawing what it does not understand', async () => {
    const { page, close } = await shared.open({ state: examples.nothingSet(), version: '9.0' });
    await expect.poll(() => page.locator('main').textContent()).toContain('version 9.0');
    await close();
  });
});
