import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  closeBrowser,
  type OpenPage,
  openPage,
  type RunningBench,
  runBench,
  until,
} from './running-bench.ts';
import { type UnknownDevice, unknownDevice } from './unknown-device.ts';

/** What the product promises a stranger. */
const UNDER_MINUTES = 3;

let device: UnknownDevice;
let bench: RunningBench;
let open: OpenPage;

beforeEach(async () => {
  device = await unknownDevice();
  bench = await runBench({
    connect: {
      indicator: {
        source: { kind: 'tcp', host: '127.0.0.1', port: device.port },
        shape: 'signed-decimal',
        unit: 'as sent',
        channel: null,
      },
    },
  });
  open = await openPage(bench.url);
});
afterEach(async () => {
  await open.page.close();
  await bench.close();
  await device.close();
});
afterAll(closeBrowser);

describe('a device whose line ships nowhere', () => {
  it('is taught on the page and read live and right, in under three minutes', async () => {
    const { page } = open;
    const begunMs = Date.now();
    await until(
      'lines come that are not understood',
      () => bench.state().links.indicator.state === 'not understood',
    );
    await page.getByRole('link', { name: 'Devices' }).click();
    await page.getByText('Teach a line that is not in the list').click();
    await page.getByRole('button', { name: 'Take the last lines of the indicator' }).click();
    await page.getByRole('heading', { name: '2. What is what' }).waitFor();

    // The guess finds number, channel and the word that changes; the words of this device must be told.
    const cells = page.getByRole('group', { name: 'Characters of the line' });
    await cells.getByRole('button', { name: /, a, always the same$/ }).click();
    await page.getByRole('button', { name: 'the unit' }).click();
    await page.getByLabel('“RUN” as status means').selectOption('ok');
    await page.getByLabel('“STP” as status means').selectOption('hold');
    await page.getByLabel('“a” as unit means').selectOption('mm');
    await page
      .getByText(/reads −?\d\.\d{4} mm, channel 2/)
      .first()
      .waitFor();
    await page.getByLabel(/By its form/).fill('Bracketed: channel, number, word, letter');
    await page.getByRole('button', { name: 'Keep it and use it for the indicator' }).click();

    await until('its readings are live', () => bench.state().links.indicator.state === 'live');
    const seen: number[] = [];
    for (let round = 0; round < 20; round += 1) {
      const reading = bench.state().live.indicator;
      if (reading?.valueMm !== null && reading !== null) seen.push(reading.valueMm);
      await new Promise((resolve) => setTimeout(resolve, 60));
    }
    const tookMs = Date.now() - begunMs;
    console.log(`taught in ${(tookMs / 1000).toFixed(1)} s by a hand that does not hesitate`);
    expect(seen.length).toBeGreaterThan(10);
    for (const valueMm of seen) expect(device.sent).toContain(valueMm);
    expect(bench.state().live.indicator).toMatchObject({ unit: 'mm', channel: '2' });
    expect(bench.state().links.indicator.counters.framesNotUnderstood).toBe(0);
    expect(tookMs).toBeLessThan(UNDER_MINUTES * 60_000);
    expect(open.complaints).toEqual([]);
  });

  it('is marked with keys alone', async () => {
    const { page } = open;
    await page.getByRole('link', { name: 'Devices' }).click();
    await page.getByText('Teach a line that is not in the list').click();
    await page.getByLabel(/Or paste three lines/).fill('V 12.5;7\nV 13.1;7\nV -0.2;7');
    await page.getByText('reads 12.5').waitFor();
    const first = page
      .getByRole('group', { name: 'Characters of the line' })
      .getByRole('button')
      .first();
    await first.focus();
    await page.keyboard.press('End');
    await page.keyboard.press('Space');
    await page.keyboard.press('Space');
    await page.getByRole('button', { name: 'channel or axis' }).press('Enter');
    await page.getByText('reads −0.2, channel 7').waitFor();
  });
});
