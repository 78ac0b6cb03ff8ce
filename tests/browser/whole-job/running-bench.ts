import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BenchState, Command } from '@taptrue/protocol';
import { buildApp } from '@taptrue/server/http/build-app.ts';
import { BenchService } from '@taptrue/server/service/bench-service.ts';
import type { ServiceOptions } from '@taptrue/server/service/service-options.ts';
import type { Browser, Page } from 'playwright-core';
import { build } from 'vite';
import { launchChromium } from '../find-chromium.ts';

const PAGE_FOLDER = fileURLToPath(new URL('../../../web/dist', import.meta.url));
const WEB_FOLDER = fileURLToPath(new URL('../../../web', import.meta.url));

/** A real service with the production page, on a free port, with a data folder of its own. */
export interface RunningBench {
  url: string;
  service: BenchService;
  state(): Readonly<BenchState>;
  command(command: Command): Promise<void>;
  close(): Promise<void>;
}

export async function runBench(options: Partial<ServiceOptions> = {}): Promise<RunningBench> {
  if (!existsSync(PAGE_FOLDER)) await build({ root: WEB_FOLDER, logLevel: 'error' });
  const dataFolder = await mkdtemp(join(tmpdir(), 'taptrue-job-'));
  const service = await BenchService.start({
    name: 'bench',
    dataFolder,
    demo: false,
    addresses: [],
    connect: {},
    ...options,
  });
  const app = await buildApp(service, PAGE_FOLDER);
  const url = await app.listen({ host: '127.0.0.1', port: 0 });
  return {
    url,
    service,
    state: () => service.store.state,
    command: async (command) => {
      const answer = await service.command(command, 'bench screen');
      if (!answer.ok) throw new Error(`${command.kind}: ${answer.fault.what} ${answer.fault.got}`);
    },
    close: async () => {
      await service.close();
      await app.close();
      await rm(dataFolder, { recursive: true, force: true });
    },
  };
}

/** A page of that bench; what the browser complained of is kept for the end of the test. */
export interface OpenPage {
  page: Page;
  complaints: string[];
}

let browser: Promise<Browser> | null = null;

export async function openPage(url: string, width = 1280, height = 800): Promise<OpenPage> {
  browser ??= launchChromium();
  const page = await (await browser).newPage({ viewport: { width, height } });
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(url);
  await page.getByRole('heading', { level: 1 }).waitFor();
  return { page, complaints };
}

export async function closeBrowser(): Promise<void> {
  await (await browser)?.close();
  browser = null;
}

/** Waits until the bench, not the page, says so. */
export async function until(what: string, isSo: () => boolean, withinMs = 15_000): Promise<void> {
  const deadline = Date.now() + withinMs;
  while (!isSo()) {
    if (Date.now() > deadline) throw new Error(`waited ${withinMs} ms in vain until ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
