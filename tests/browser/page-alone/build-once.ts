import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** The folder of the built page. */
    pageFolder: string;
  }
}

const VITE_CONFIG = fileURLToPath(new URL('../../../web/vite.config.ts', import.meta.url));

/** Builds the page as it is shipped, once for all tests of it, in a folder that nothing else writes. */
export async function setup(project: TestProject): Promise<() => Promise<void>> {
  const folder = await mkdtemp(join(tmpdir(), 'taptrue-page-'));
  await build({
    configFile: VITE_CONFIG,
    logLevel: 'warn',
    build: { outDir: folder, emptyOutDir: true },
  });
  project.provide('pageFolder', folder);
  return () => rm(folder, { recursive: true, force: true });
}
