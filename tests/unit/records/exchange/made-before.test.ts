import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import { importRecordings } from '@taptrue/server/records/exchange/import-recordings.ts';
import { linesOfFile } from '@taptrue/server/records/exchange/lines-of-file.ts';
import { tellAgain } from '@taptrue/server/records/exchange/told-again.ts';
import { describe, expect, it } from 'vitest';
import { newStore, recordingOf } from './a-job.ts';

/** Recordings that an earlier build gave out, each in the folder of the version it was made with. */
const FOLDER = fileURLToPath(new URL('../../../recordings', import.meta.url));
const FILES = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' }).filter((name) =>
  name.endsWith('.jsonl'),
);

describe('recordings made before', () => {
  it('are there', () => {
    expect(FILES.length).toBeGreaterThanOrEqual(3);
  });

  it.each(FILES)(
    '%s is told again to the last digit, or says which version reckoned it',
    (name) => {
      const [told] = [...tellAgain(linesOfFile(join(FOLDER, name)))];
      expect(told!.refused).toBeNull();
      expect(told!.sweeps.length).toBeGreaterThanOrEqual(2);
      for (const { recorded } of told!.sweeps) expect(recorded).not.toBeNull();
      expect(name).toContain(`version-${told!.version}`);
      if (told!.version === PROTOCOL_VERSION) expect(told!.different).toBe(0);
      else expect(told!.isOurVersion).toBe(false);
    },
  );

  it.each(FILES)('%s is taken in and given out again byte for byte', (name) => {
    const db = newStore();
    const [taken] = importRecordings(db, join(FOLDER, name));
    expect(taken).toMatchObject({ outcome: 'taken in', fault: null });
    expect(recordingOf(db, taken!.job!)).toBe(readFileSync(join(FOLDER, name), 'utf8'));
  });
});
