#!/usr/bin/env node
// A committed plain-JavaScript file, so that npm can link the command before anything is built.
// It lets Node read the TypeScript sources as they stand; there is no compiled copy to fall behind them.
try {
  const { register } = await import('tsx/esm/api');
  register();
  const { guardExitCode } = await import('../cli/guard-exit-code.ts');
  guardExitCode();
  const { main } = await import('../cli/main.ts');
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  // Left to Node this would end with 1, which here means `not true`.
  console.error(`taptrue could not be loaded: ${error instanceof Error ? error.message : error}`);
  console.error('In its folder run npm ci, with Node 20.19 or newer, and try again.');
  process.exitCode = 70;
}
