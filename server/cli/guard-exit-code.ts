import { EXIT } from './command.ts';

/**
 * Left to itself Node ends with exit code 1 where its output breaks or an error is caught by nobody; here 1
 * means `not true`. A reader that goes away (`| head`) has read what it wanted: what runs until Ctrl-C ends
 * in order, and the exit code stays what was found. Anything else is exit 70, with the reason.
 */
export function guardExitCode(): void {
  let failed = false;
  const fail = (what: string, error: unknown) => {
    failed = true;
    try {
      process.stderr.write(`${what}: ${error instanceof Error ? error.message : String(error)}\n`);
    } catch {
      // Nowhere is left to say it; the exit code does.
    }
  };
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EPIPE') process.emit('SIGINT', 'SIGINT');
      else fail('The output could not be written', error);
    });
  }
  process.on('uncaughtException', (error) => {
    fail('A fault of ours, please report it', error.stack ?? error);
    process.exit(EXIT.ourFault);
  });
  process.on('exit', () => {
    if (failed) process.exitCode = EXIT.ourFault;
  });
}
