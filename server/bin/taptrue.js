#!/usr/bin/env node
// A committed plain-JavaScript file, so that npm can link the command before anything is built.
// It lets Node read the TypeScript sources as they stand; there is no compiled copy to fall behind them.
import { register } from 'tsx/esm/api';

register();
const { main } = await import('../cli/main.ts');
process.exitCode = await main(process.argv.slice(2));
