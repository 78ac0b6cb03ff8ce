const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such folder',
  ENOTDIR: 'what should be its folder is a file',
  EISDIR: 'it is a folder',
  EACCES: 'this user may not write there',
  EPERM: 'this user may not write there',
  EROFS: 'that disk can only be read',
  ENOSPC: 'the disk is full',
};

/** Why a file could not be written, as half a sentence. */
export function whyNotWritten(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code ?? String(error);
  return REASONS[code] ?? `the system says ${code}`;
}
