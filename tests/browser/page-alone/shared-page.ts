import { mkdtemp, rm } from 'node:fs/promises';
import type { Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { launchChromium } from '../find-chromium.ts';
import {
  type Alone,
  type AloneOptions,
  buildPage,
  openAlone,
  serveFiles,
} from './page-without-service.ts';

/** Build and first launch together; a browser that has to be fetched takes the longest. */
const GETTING_READY_MS = 240_000;

/** One build and one browser for a file of tests. */
export function sharedPage(): { open(options: AloneOptions): Promise<Alone> } {
  let browser: Browser;
  let server: Server;
  let origin = '';
  let folder = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'taptrue-page-'));
    await buildPage(folder);
    ({ origin, server } = await serveFiles(folder));
    browser = await launchChromium();
  }, GETTING_READY_MS);
  afterAll(async () => {
    await browser?.close();
    server?.close();
    if (folder !== '') await rm(folder, { recursive: true, force: true });
  });
  return { open: (options) => openAlone(browser, origin, options) };
}
