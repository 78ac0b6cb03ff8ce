import { describe, expect, it } from 'vitest';
import { examplePorts } from '../example-ports.ts';
import * as examples from '../example-states.ts';
import { sharedPage } from './shared-page.ts';

describe('hands and keys', () => {
  const shared = sharedPage();

  it.each(['Space', 'Enter'])('%s takes a station from the device', async (key) => {
    const { page, commands, close } = await shared.open({ state: examples.stationsMidSweep() });
    await page.keyboard.press(key);
    await expect.poll(() => commands).toEqual([{ kind: 'take station' }]);
    await close();
  });

  it.each(['Enter', 'Tab'])(
    'a typed reading lands in the capture box and %s takes it as it was typed',
    async (key) => {
      const { page, commands, close } = await shared.open({ state: examples.keyedMidSweep() });
      const box = page.getByLabel('Reading, in');
      await expect
        .poll(() => box.evaluate((element) => element === document.activeElement))
        .toBe(true);
      await page.keyboard.type('-,0015', { delay: 70 });
      await page.keyboard.press(key);
      await expect.poll(() => commands).toEqual([{ kind: 'take station', keyed: '-,0015' }]);
      expect(await box.inputValue()).toBe('');
      expect(await box.evaluate((element) => element === document.activeElement)).toBe(true);
      await close();
    },
  );

  it('Tab leaves an empty capture box, which is no trap', async () => {
    const { page, commands, close } = await shared.open({ state: examples.keyedMidSweep() });
    await page.getByLabel('Reading, in').focus();
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.textContent?.trim())).toContain(
      'Take',
    );
    expect(commands).toEqual([]);
    await close();
  });

  it('digits typed while the box is not chosen go nowhere, and that is said', async () => {
    const { page, commands, close } = await shared.open({ state: examples.keyedMidSweep() });
    await page.getByRole('button', { name: 'Abandon it' }).focus();
    await page.keyboard.type('0.0015');
    const hint = page.getByText('Typed characters went nowhere');
    await hint.waitFor();
    expect(await page.getByLabel('Reading, in').inputValue()).toBe('');
    expect(commands).toEqual([]);
    await page.getByRole('button', { name: 'Choose the box' }).click();
    expect(await hint.count()).toBe(0);
    await close();
  });

  it('Ctrl Enter begins and ends, Ctrl Backspace takes back', async () => {
    const state = examples.stationsMidSweep();
    const { page, commands, change, close } = await shared.open({ state });
    await page.keyboard.press('Control+Backspace');
    await page.keyboard.press('Control+Enter');
    await expect.poll(() => commands.map(({ kind }) => kind)).toEqual(['take back', 'end sweep']);
    change({ sweep: null });
    await page.getByRole('button', { name: 'Begin the sweep' }).waitFor();
    await page.keyboard.press('Control+Enter');
    await expect.poll(() => commands.at(-1)).toEqual({ kind: 'begin sweep' });
    await close();
  });

  it('a refusal is shown with what was got and what to do', async () => {
    const alone = await shared.open({ state: examples.keyedMidSweep() });
    alone.answerWith({
      ok: false,
      fault: {
        code: 'keyed-not-read' as const,
        what: 'That is not a reading.',
        got: '1.2.3',
        remedy: 'Key one decimal mark.',
      },
    });
    await alone.page.keyboard.type('1.2.3\n');
    const word = alone.page.locator('.bench-word [role=alert]');
    await expect.poll(() => word.textContent()).toContain('That is not a reading.');
    expect(await word.textContent()).toContain('1.2.3');
    expect(await word.textContent()).toContain('Key one decimal mark.');
    await alone.close();
  });

  it('the saddle nudge asks for the move away and sends how far', async () => {
    const state = examples.demoReady();
    const open = { ...state.nudges.y, state: 'not done' as const };
    const alone = await shared.open({ state: { ...state, nudges: { ...state.nudges, y: open } } });
    await alone.page.getByRole('button', { name: '0.1 mm', exact: true }).click();
    await alone.page.getByRole('button', { name: 'Begin the nudge' }).click();
    alone.change({ nudges: { ...state.nudges, y: { ...open, state: 'waiting for the move' } } });
    await alone.page.getByText('away from you').first().waitFor();
    await alone.page.getByRole('button', { name: 'The saddle has moved' }).click();
    await expect
      .poll(() => alone.commands)
      .toEqual([
        { kind: 'begin nudge', nudge: 'y' },
        { kind: 'finish nudge', nudge: 'y', movedMm: 0.1 },
      ]);
    await alone.close();
  });

  it('a field that is not understood keeps its text, says why and sends nothing', async () => {
    const { page, commands, close } = await shared.open({ state: examples.nothingSet() });
    const field = page.getByLabel('Swept length');
    await field.fill('1,234.5');
    await field.press('Tab');
    await page.getByText('is not a length').waitFor();
    expect(await field.inputValue()).toBe('1,234.5');
    expect(commands).toEqual([]);
    await field.fill('100mm');
    await field.press('Tab');
    await expect.poll(() => commands).toHaveLength(1);
    expect(commands[0]).toMatchObject({
      kind: 'change setup',
      change: { sweptLengthMm: 100, stationsMm: [0, 25, 50, 75, 100] },
    });
    await close();
  });

  it('parks where the thumb chose, or keys in what the dial shows there', async () => {
    const { page, commands, close } = await shared.open({
      state: examples.resultNotTrue(),
      place: 'tap',
    });
    await page.getByRole('button', { name: '3.750 in' }).click();
    await page.getByRole('button', { name: 'It is parked' }).click();
    await expect.poll(() => commands).toEqual([{ kind: 'park', xMm: 95.25 }]);
    await close();
  });

  it('sweeping again goes to the sweep and begins it', async () => {
    const { page, commands, close } = await shared.open({
      state: examples.tapLive(),
      place: 'tap',
    });
    await page.getByRole('button', { name: 'Sweep again' }).click();
    await expect.poll(() => new URL(page.url()).hash).toBe('#sweep');
    expect(commands).toEqual([{ kind: 'begin sweep' }]);
    await close();
  });

  it('connects a serial device server typed as host:port', async () => {
    const { page, commands, close } = await shared.open({
      state: {
        ...examples.nothingSet(),
        ports: { ports: examplePorts(), leftOut: 0, watched: true },
      },
      place: 'devices',
    });
    const region = page.getByRole('region', { name: 'indicator' });
    await region.getByText('Connect it by hand').click();
    const panel = region.locator('link-connect');
    await panel.getByRole('button', { name: '/dev/ttyUSB0' }).waitFor();
    await panel.getByLabel('Port, or address:port').fill('192.168.1.9:4001');
    await panel.getByRole('button', { name: 'Connect the indicator' }).click();
    await expect
      .poll(() => commands)
      .toEqual([
        {
          kind: 'connect',
          link: 'indicator',
          config: {
            source: { kind: 'tcp', host: '192.168.1.9', port: 4001 },
            shape: 'signed-decimal',
            unit: 'as sent',
            channel: null,
          },
        },
      ]);
    await close();
  });

  it.each(['sweep', 'tap', 'devices'])(
    'a watcher can press nothing in %s but look around and pair',
    async (place) => {
      const { page, close } = await shared.open({
        state: examples.tapLive(),
        place,
        role: 'watcher',
      });
      await page.locator('main button').first().waitFor();
      const enabled = await page
        .locator('main button:enabled, header button:enabled')
        .allTextContents();
      // Light or dark is this screen's own, and changes nothing at the bench.
      const looks = ['system', 'light', 'dark', 'sunlight'];
      expect(enabled.map((text) => text.trim()).filter((text) => !looks.includes(text))).toEqual(
        [],
      );
      await page.getByText('This screen only watches.').click();
      await page.getByLabel('Code').fill('482915');
      const asked = page.waitForRequest('**/api/pair');
      await page.getByRole('button', { name: 'Pair this tablet' }).click();
      expect((await asked).postDataJSON()).toEqual({
        code: '482915',
        name: 'tablet at the handwheel',
      });
      await close();
    },
  );
});
