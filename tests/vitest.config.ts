import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('..', import.meta.url));

/** The runner's own choice leaves a core idle: on two cores it takes one file at a time. */
const EVERY_CORE = '100%';

/**
 * Three kinds of tests, one after the other. What computes runs side by side on all cores. The tests of the page
 * alone promise nothing in seconds and run side by side where there are cores to spare: a browser keeps two
 * busy. What keeps real time (ports, processes, a whole job in a browser) runs alone, one file at a time:
 * beside anything else it would measure the machine, not the product. A promise in seconds may be missed once
 * where something else has the machine, so these are tried a second time; a fault of ours fails twice.
 */
export default defineConfig({
  test: {
    reporters: ['default'],
    projects: [
      {
        root,
        test: {
          name: 'computing',
          // Nothing is shared that one file could spoil for another, and importing everything anew for each of
          // 160 files took longer than all their tests: 275 s of computing instead of 104.
          isolate: false,
          include: ['tests/{unit,reference,rules,physics}/**/*.test.ts'],
          testTimeout: 60_000,
          hookTimeout: 60_000,
          maxWorkers: EVERY_CORE,
          sequence: { groupOrder: 0 },
        },
      },
      {
        root,
        test: {
          name: 'page alone',
          include: ['tests/browser/page-alone/**/*.test.ts'],
          globalSetup: ['tests/browser/page-alone/build-once.ts'],
          testTimeout: 60_000,
          hookTimeout: 240_000,
          sequence: { groupOrder: 1 },
        },
      },
      {
        root,
        test: {
          name: 'real time',
          include: ['tests/{integration,endurance}/**/*.test.ts', 'tests/browser/*/**/*.test.ts'],
          exclude: ['tests/browser/page-alone/**'],
          testTimeout: 60_000,
          hookTimeout: 240_000,
          fileParallelism: false,
          retry: 1,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
});
