import type { Server } from 'node:http';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, inject } from 'vitest';
import { launchChromium } from '../find-chromium.ts';
import { type Alone, type AloneOptions, openAlone, serveFiles } from './page-without-service.ts';

/** The first launch; a browser that has to be fetched takes the longest. */
const GETTING_READY_MS = 240_000;

/** One browser for a file of tests, on the page that was built once for all of them. */
export function sharedPage(): { open(options: AloneOptions): Promise<Alone> } {
  let browser: Browser;
  let server: Server;
  let origin = '';
  beforeAll(async () => {
    ({ origin, server } = await serveFiles(inject('pageFolder')));
    browser = await launchChromium();
  }, GETTING_READY_MS);
  afterAll(async () => {
    await browser?.close();
    server?.close();
  });
  return { open: (options) => openAlone(browser, origin, options) };
}
