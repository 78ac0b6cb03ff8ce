import { describe, it } from 'vitest';
import { describeLinkOver } from './link-suite.ts';
import { memoryDevice } from './memory-device.ts';
import { noPtyBecause, ptyDevice } from './pty-device.ts';
import { tcpDevice } from './tcp-device.ts';

describeLinkOver('memory', memoryDevice);
describeLinkOver('TCP', tcpDevice);

const noPty = noPtyBecause();
if (noPty === null) {
  describeLinkOver('a pseudo-terminal', ptyDevice);
} else {
  console.warn(`Skipped: a link over a pseudo-terminal, because ${noPty}.`);
  describe('a link over a pseudo-terminal', () => {
    it.skip(`is skipped: ${noPty}`, () => undefined);
  });
}
