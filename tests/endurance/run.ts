import { fileURLToPath } from 'node:url';
import { startVitest } from 'vitest/node';

// The long form of the tests that kill benches: two hundred times each, some half an hour.
process.env.TAPTRUE_KILLS ??= '200';
const root = fileURLToPath(new URL('../..', import.meta.url));
const vitest = await startVitest('test', ['tests/endurance'], {
  root,
  run: true,
  config: 'tests/vitest.config.ts',
  retry: 0,
});
await vitest.close();
