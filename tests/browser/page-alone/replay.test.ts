import { describe, expect, it } from 'vitest';
import { exampleReplay, replayed, replayedWhatIf } from '../example-replays.ts';
import type { Alone } from './page-without-service.ts';
import { sharedPage } from './shared-page.ts';

const SIZES = [
  { width: 1920, height: 1080 },
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 390, height: 844 },
];

/** Where on the screen a word stands, with what covers its middle: itself, or something else. */
async function isInSight(alone: Alone, selector: string): Promise<boolean> {
  return alone.page.locator(selector).evaluate((element) => {
    const { left, top, width, height } = element.getBoundingClientRect();
    const hit = document.elementFromPoint(left + width / 2, top + height / 2);
    return hit !== null && (element.contains(hit) || hit.contains(element));
  });
}

describe('a replay on the page', () => {
  const shared = sharedPage();
  const open = (state = replayed(), place = 'sweep') =>
    shared.open({ state, place, search: '?replay=job-7' });

  it.each(SIZES)(
    'says REPLAY on every place at $width x $height, wherever it is scrolled to',
    async (size) => {
      for (const place of ['sweep', 'tap']) {
        const alone = await open(replayed(), place);
        await alone.page.setViewportSize(size);
        for (const part of [0, 0.5, 1]) {
          await alone.page.evaluate(
            (share) => scrollTo(0, share * document.documentElement.scrollHeight),
            part,
          );
          expect(await isInSight(alone, '.replay-band strong >> nth=0'), `${place} ${part}`).toBe(
            true,
          );
          expect(await isInSight(alone, '.replay-play'), `${place} ${part}`).toBe(true);
        }
        expect(await alone.page.title()).toContain('REPLAY');
        await alone.close();
      }
    },
  );

  it('goes to places of the bench only by going back to the bench', async () => {
    const alone = await open(replayed(), 'devices');
    const places = await alone.page.locator('bench-bar nav a').allTextContents();
    expect(places).toEqual(['Sweep', 'Tap']);
    expect(await alone.page.getByText('Back to the bench').getAttribute('href')).toBe('/');
    await alone.close();
  });

  it('measures nothing: what would is switched off and says why, and its keys do nothing', async () => {
    const alone = await open();
    const begin = alone.page.getByRole('button', { name: 'Sweep again' });
    expect(await begin.isDisabled()).toBe(true);
    expect(await begin.getAttribute('title')).toContain('This is a replay');
    await alone.page.keyboard.press('Control+Enter');
    await alone.page.waitForTimeout(200);
    expect(alone.commands).toEqual([]);
    await alone.close();
  });

  it('plays, steps and changes its pace by keys', async () => {
    const alone = await open();
    for (const key of [' ', 'ArrowRight', 'ArrowLeft', 's', 't', 'ArrowUp', 'ArrowDown'])
      await alone.page.keyboard.press(key);
    await expect.poll(() => alone.moves.length).toBe(7);
    expect(alone.moves).toEqual([
      { move: 'play' },
      { move: 'step', way: 'on', to: 'anything' },
      { move: 'step', way: 'back', to: 'anything' },
      { move: 'step', way: 'on', to: 'station' },
      { move: 'step', way: 'on', to: 'tap' },
      { move: 'speed', speed: 2 },
      { move: 'speed', speed: 0.5 },
    ]);
    alone.change({ replay: exampleReplay({ isPlaying: true }) });
    await alone.page.getByRole('button', { name: 'Pause' }).click();
    await expect.poll(() => alone.moves.at(-1)).toEqual({ move: 'pause' });
    await alone.page.getByLabel('Speed').selectOption({ label: '×50' });
    await expect.poll(() => alone.moves.at(-1)).toEqual({ move: 'speed', speed: 50 });
    await alone.close();
  });

  it('is dragged to a place of the recording, and the grip stays in the hand meanwhile', async () => {
    const alone = await open();
    const scale = alone.page.getByLabel('Time in the recording');
    await expect.poll(() => scale.getAttribute('aria-valuetext')).toBe('1:00 of 2:00');
    const box = (await scale.boundingBox())!;
    await alone.page.mouse.move(box.x + box.width / 2, box.y + 30);
    await alone.page.mouse.down();
    await alone.page.mouse.move(box.x + box.width * 0.75, box.y + 30, { steps: 5 });
    await expect.poll(() => scale.getAttribute('aria-valuetext')).toMatch(/^1:(29|30|31) of 2:00$/);
    await alone.page.mouse.up();
    // While it is dragged, places on the way are sent as well: the last one is where it was let go.
    const sentTo = () => {
      const last = alone.moves.at(-1);
      return last?.move === 'to' ? last.atMs : Number.NaN;
    };
    await expect.poll(sentTo).toBeGreaterThan(98_000);
    expect(sentTo()).toBeLessThan(102_000);
    await alone.close();
  });

  it('says what happened last where it stands, and offers each sweep by itself', async () => {
    const alone = await open();
    await expect
      .poll(() => alone.page.locator('.replay-time').textContent(), { timeout: 15_000 })
      .toContain('Tap 2: closer.');
    const shown = await alone.page.getByLabel('Shown').locator('option').allTextContents();
    expect(shown).toEqual(['whole job', 'sweep 1', 'sweep 2']);
    await alone.close();
  });

  it('says that a sweep comes out as recorded, or holds both beside each other and says why not', async () => {
    const same = await open();
    expect(await same.page.locator('replay-compare').textContent()).toContain(
      'Sweep 1 comes out as recorded, to the last digit.',
    );
    await same.close();
    const other = await open(replayedWhatIf());
    const text = await other.page.locator('replay-compare').textContent();
    expect(text).toContain('The setup is tried otherwise than recorded.');
    const verdicts = await other.page
      .locator('.replay-figures tr')
      .nth(1)
      .locator('td')
      .allTextContents();
    expect(verdicts).toEqual(['not true', 'true']);
    expect(await other.page.locator('replay-band').textContent()).toMatch(
      /WHAT IF\s+another limit/,
    );
    expect(
      await other.page.getByRole('link', { name: 'Record for paper, A4' }).getAttribute('href'),
    ).toMatch(/\/sheet\?replay=1&paper=a4$/);
    await other.page.getByRole('button', { name: 'Back to as recorded' }).click();
    await expect.poll(() => other.moves.at(-1)).toEqual({ move: 'as recorded' });
    await other.close();
  });

  it('tries another limit in the replay and nowhere else', async () => {
    const alone = await open();
    await alone.page.getByText('What if: try').click();
    const limit = alone.page.locator('replay-what-if').getByLabel('Limit, end to end');
    await limit.fill('0.02 in');
    await limit.press('Enter');
    await expect.poll(() => alone.tried.length).toBe(1);
    expect(alone.tried[0]).toMatchObject({
      kind: 'change setup',
      change: { limit: { kind: 'end to end', mm: 0.508 } },
    });
    expect(alone.commands).toEqual([]);
    await alone.close();
  });
});
