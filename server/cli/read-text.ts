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
  return textOf(Buffer.concat(chunks));
}

/** UTF-8, unless a byte order mark says that it is UTF-16, as files redirected by a Windows shell are. */
function textOf(bytes: Buffer): string {
  const mark = bytes.subarray(0, 2).toString('hex');
  const encoding = mark === 'fffe' ? 'utf-16le' : mark === 'feff' ? 'utf-16be' : 'utf-8';
  return new TextDecoder(encoding).decode(bytes);
}

/** The text of a named file, or of standard input for `-`. What cannot be read is refused with its name. */
export async function readText(path: string): Promise<string> {
  if (path === '-') return readStandardInput();
  try {
    const { size } = await stat(path);
    if (size > LARGEST_FILE_BYTES) throw tooLarge(path);
    return textOf(await readFile(path));
  } catch (error) {
    if (error instanceof Refusal) throw error;
    const code = (error as NodeJS.ErrnoException).code ?? '';
    throw new Refusal(
      `Cannot read ${path}: ${SYSTEM_REASONS[code] ?? `the system says ${code || String(error)}`}. Check the name.`,
    );
  }
}
