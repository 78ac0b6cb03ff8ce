import type { LineShape, PortSettings } from '@taptrue/protocol';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import {
  closeBrowser,
  type OpenPage,
  openPage,
  type RunningBench,
  runBench,
  until,
} from './running-bench.ts';
import { UNKNOWN_SHAPE } from './unknown-device.ts';
import { PORT, type WiredPort, wiredPort } from './wired-port.ts';

/** What the product promises a stranger. */
const LIVE_WITHIN_MS = 60_000;
const TAUGHT_WITHIN_MS = 180_000;

let bench: RunningBench;
let open: OpenPage;

async function arrives(shape: LineShape, settings: PortSettings): Promise<WiredPort> {
  const port = wiredPort(shape, settings);
  bench = await runBench({ openSerial: port.openSerial });
  open = await openPage(bench.url);
  return port;
}
afterEach(async () => {
  await open.page.close();
  await bench.close();
});
afterAll(closeBrowser);

async function picture(name: string): Promise<void> {
  const folder = process.env.STRANGER_PICTURES;
  if (folder) await open.page.screenshot({ path: `${folder}/${name}.png` });
}

async function beginsToFind(): Promise<void> {
  const { page } = open;
  await picture('1-first-sight');
  await page.getByRole('link', { name: 'Devices' }).click();
  const panel = page.getByRole('region', { name: 'indicator' });
  await panel.getByLabel(/name of a port/).fill(PORT);
  await picture('2-port');
  await panel.getByRole('button', { name: 'Find the indicator' }).click();
}

/** Twenty readings of the live device are what its screen said, whatever else is in between. */
async function readsWhatTheScreenSays(port: WiredPort): Promise<void> {
  await until('its readings are live', () => bench.state().links.indicator.state === 'live');
  let right = 0;
  for (let round = 0; round < 20; round += 1) {
    const before = port.screen();
    await new Promise((resolve) => setTimeout(resolve, 400));
    // Only where the screen stood still meanwhile is there one answer.
    if (port.screen() !== before) continue;
    const { live } = bench.state();
    expect(live.indicator).toMatchObject({ value: before, unit: 'mm', valueMm: before });
    right += 1;
  }
  expect(right).toBeGreaterThan(10);
}

describe('a stranger with a device of which nothing is known', () => {
  it.each<[string, PortSettings]>([
    ['channel-type-unit', { baudRate: 4800, dataBits: 7, parity: 'even', stopBits: 1 }],
    ['signed-decimal-comma', { baudRate: 38_400, dataBits: 8, parity: 'odd', stopBits: 1 }],
  ])('has live, right readings in under a minute: %s', async (name, settings) => {
    const port = await arrives(shapeNamed(name)!, settings);
    const { page } = open;
    const begunMs = Date.now();
    await beginsToFind();
    const panel = page.getByRole('region', { name: 'indicator' });
    const question = panel.locator('.find-number');
    await question.waitFor({ timeout: LIVE_WITHIN_MS });
    const foundMs = Date.now() - begunMs;
    await picture('3-question');
    await expect
      .poll(async () =>
        Number((await question.textContent())!.replace('−', '-').replace(/[^-.\d]/g, '')),
      )
      .toBe(port.screen());
    expect(await question.textContent()).toContain('mm');
    await panel.getByRole('button', { name: 'Yes, that is it' }).click();
    await until('its readings are live', () => bench.state().links.indicator.state === 'live');
    const tookMs = Date.now() - begunMs;
    console.log(
      `${name}: asked after ${(foundMs / 1000).toFixed(1)} s, live after ${(tookMs / 1000).toFixed(1)} s`,
    );
    await picture('4-live');
    expect(tookMs).toBeLessThan(LIVE_WITHIN_MS);
    await readsWhatTheScreenSays(port);
    expect(bench.state().links.indicator.config?.source).toMatchObject({ settings });
    expect(open.complaints).toEqual([]);
  });

  it('whose shape ships nowhere teaches it from what the search heard, in under three', async () => {
    const settings: PortSettings = { baudRate: 19_200, dataBits: 8, parity: 'even', stopBits: 1 };
    const port = await arrives(UNKNOWN_SHAPE, settings);
    const { page } = open;
    const begunMs = Date.now();
    await beginsToFind();
    const teach = page.getByRole('button', { name: 'Teach its lines' });
    await teach.waitFor({ timeout: TAUGHT_WITHIN_MS });
    const endedMs = Date.now() - begunMs;
    await picture('5-not-known');
    await teach.click();
    // It stands still for seconds: the same line came over and over.
    const more = page.getByRole('button', { name: 'Listen on and take more lines' });
    const cells = page.getByRole('group', { name: 'Characters of the line' });
    await cells.or(more).first().waitFor();
    if (await more.isVisible()) await more.click();
    await picture('6-listens-on');
    await cells.waitFor();
    await page
      .getByText(/reads −?0\.\d{4}/)
      .nth(2)
      .waitFor();
    await picture('6-teach');
    await cells.getByRole('button', { name: /, a, always the same$/ }).click();
    await page.getByRole('button', { name: 'the unit' }).click();
    await page.getByLabel('“a” as unit means').selectOption('mm');
    // A word that stands in every line is asked about; this one says nothing of the number.
    await cells.getByRole('button', { name: /, R, always the same$/ }).hover();
    await page.mouse.down();
    await cells.getByRole('button', { name: /, N, always the same$/ }).hover();
    await page.mouse.up();
    await page.getByRole('button', { name: 'passed over' }).click();
    await page.getByLabel(/By its form/).fill('Bracketed: channel, number, word, letter');
    await picture('7-told');
    await page.getByRole('button', { name: 'Keep it and use it for the indicator' }).click();
    await until('its readings are live', () => bench.state().links.indicator.state === 'live');
    const tookMs = Date.now() - begunMs;
    console.log(
      `search over after ${(endedMs / 1000).toFixed(1)} s, taught and live after ${(tookMs / 1000).toFixed(1)} s`,
    );
    await picture('8-live');
    expect(tookMs).toBeLessThan(TAUGHT_WITHIN_MS);
    await readsWhatTheScreenSays(port);
    expect(bench.state().links.indicator.config?.source).toMatchObject({ settings });
    expect(bench.state().find).toBeNull();
    expect(open.complaints).toEqual([]);
  });
});

describe('two screens at once', () => {
  it('see one search, and the second is told how to end it where it connects by hand', async () => {
    // It sends at its key only, so that the search goes on for as long as nobody ends it.
    const settings: PortSettings = { baudRate: 1200, dataBits: 8, parity: 'odd', stopBits: 1 };
    await arrives(shapeNamed('signed-decimal-by-key')!, settings);
    await beginsToFind();
    const other = await openPage(bench.url);
    await other.page.getByRole('link', { name: 'Devices' }).click();
    const indicator = other.page.getByRole('region', { name: 'indicator' });
    await indicator.locator('.find-state').getByText('Listening').waitFor();
    const region = other.page.getByRole('region', { name: 'readout' });
    await region.locator('summary', { hasText: 'Connect it by hand' }).click();
    const readout = region.locator('link-connect');
    await readout.getByText(`The indicator is being looked for on ${PORT}`).waitFor();
    await readout.getByLabel('Port, or address:port on the network').fill(PORT);
    await readout.getByRole('button', { name: 'Connect the readout' }).click();
    await other.page
      .getByText(/being listened to: the indicator is looked for there/)
      .first()
      .waitFor();
    const folder = process.env.STRANGER_PICTURES;
    if (folder) await other.page.screenshot({ path: `${folder}/9-other-screen.png` });
    expect(bench.state().links.readout.state).toBe('not set');
    await readout.getByRole('button', { name: 'Stop the search' }).click();
    // The first screen is back at the choice of a port, and the second may have it now.
    await open.page.getByRole('button', { name: 'Find the indicator' }).waitFor();
    await readout.getByRole('button', { name: 'Connect the readout' }).click();
    await until('the readout is open', () => bench.state().links.readout.config !== null);
    expect([...open.complaints, ...other.complaints]).toEqual([]);
    await other.page.close();
  });
});
