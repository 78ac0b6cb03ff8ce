import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { recordingSchema } from '@taptrue/protocol';

/** Writes the schema of recordings for whoever reads them elsewhere; a test compares it with the code. */
const file = fileURLToPath(new URL('../../protocol/record/recording.schema.json', import.meta.url));
writeFileSync(file, `${JSON.stringify(recordingSchema(), null, 2)}\n`);
