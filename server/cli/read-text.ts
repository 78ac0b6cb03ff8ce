import { readFile, stat } from 'node:fs/promises';
import { Refusal } from './command.ts';

/** Bytes at most: a million rows of sixty characters. */
export const LARGEST_FILE_BYTES = 64 * 1024 * 1024;

function tooLarge(name: string): Refusal {
  return new Refusal(
    `${name} is larger than ${LARGEST_FILE_BYTES / 1024 / 1024} MB. Keep one sweep in it.`,
  );
}

const SYSTEM_REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EACCES: 'it may not be read',
  EPERM: 'it may not be read',
  EISDIR: 'it is a folder',
};

async function readStandardInput(): Promise<string> {
  const chunks: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of process.stdin) {
    const part = Buffer.from(chunk);
    bytes += part.length;
    if (bytes > LARGEST_FILE_BYTES) throw tooLarge('Standard input');
    chunks.push(part);
  }
  return Buffer.concat(chunks).toString('utf8');
}

/** The text of a named file, or of standard input for `-`. What cannot be read is refused with its name. */
export async function readText(path: string): Promise<string> {
  if (path === '-') return readStandardInput();
  try {
    const { size } = await stat(path);
    if (size > LARGEST_FILE_BYTES) throw tooLarge(path);
    return await readFile(path, 'utf8');
  } catch (error) {
    if (error instanceof Refusal) throw error;
    const code = (error as NodeJS.ErrnoException).code ?? '';
    throw new Refusal(
      `Cannot read ${path}: ${SYSTEM_REASONS[code] ?? `the system says ${code || String(error)}`}. Check the name.`,
    );
  }
}
