import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { buildApp } from '@taptrue/server/http/build-app.ts';
import type { BenchService } from '@taptrue/server/service/bench-service.ts';
import { launchChromium } from '../browser/find-chromium.ts';

const BUILT_PAGE = fileURLToPath(new URL('../../web/dist', import.meta.url));
const SIZE = { width: 1920, height: 1080 };
const NEVER_AFTER_MS = 60_000;

/**
 * Stamps, on the page's clock that begins with the navigation, when this part has been drawn: looked for in
 * every frame, taken in the task after it, when that frame is handed to the compositor. Text, not a function:
 * what a compiler adds to a function is not known in a page.
 */
const stampOf = (part: string) => `(() => {
  const channel = new MessageChannel();
  channel.port1.onmessage = () => { document.documentElement.dataset.drawnMs = performance.now(); };
  const look = () => {
    if (document.querySelector('${part}')) channel.port2.postMessage(null);
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
})()`;

export interface Opened {
  /** From a press in the list of kept jobs to the whole needle of the record drawn, ms. */
  fromListMs: number[];
  /** The same in a window that never showed the page: its program is fetched and compiled first, ms. */
  newWindowMs: number[];
  /** Such a window with nothing recorded, to its gauge drawn, ms: what a page costs here at all. */
  benchMs: number[];
}

/** Each so many times, in turn; or why it is not known. */
export async function openedOnPage(
  service: BenchService,
  key: string,
  times: number,
): Promise<Opened | string> {
  if (!existsSync(BUILT_PAGE)) return 'the page is not built; npm run build makes it';
  const browser = await launchChromium().catch((error: unknown) => String(error));
  if (typeof browser === 'string') return browser;
  const app = await buildApp(service, BUILT_PAGE);
  const origin = await app.listen({ host: '127.0.0.1', port: 0 });
  const drawnMs = async (address: string, part: string, seenBefore = false) => {
    const context = await browser.newContext({ viewport: SIZE });
    const page = await context.newPage();
    if (seenBefore) {
      await page.goto(`${origin}/#proof`);
      await page.locator('proof-list').waitFor();
    }
    await page.addInitScript({ content: stampOf(part) });
    await page.goto(`${origin}${address}`);
    await page.locator('html[data-drawn-ms]').waitFor({ timeout: NEVER_AFTER_MS });
    const ms = Number(await page.locator('html').getAttribute('data-drawn-ms'));
    await context.close();
    return ms;
  };
  const replay = `/?replay=${key}`;
  const opened: Opened = { fromListMs: [], newWindowMs: [], benchMs: [] };
  for (let time = 0; time < times; time += 1) {
    opened.fromListMs.push(await drawnMs(replay, '.scale-needle', true));
    opened.newWindowMs.push(await drawnMs(replay, '.scale-needle'));
    opened.benchMs.push(await drawnMs('/#sweep', '.rule-body'));
  }
  await browser.close();
  await app.close();
  return opened;
}
