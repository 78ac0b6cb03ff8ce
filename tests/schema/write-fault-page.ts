import { writeFile } from 'node:fs/promises';
import { faultPage } from './fault-page.ts';

await writeFile(new URL('../../protocol/FAULTS.md', import.meta.url), faultPage());
