import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));

export interface SourceFile {
  /** From the root, with forward slashes. */
  path: string;
  text: string;
}

const NOT_OURS = new Set(['node_modules', 'dist', 'output']);

/** Every TypeScript file below the given folders of the project. */
export function sourceFiles(...folders: string[]): SourceFile[] {
  const found: SourceFile[] = [];
  const walk = (folder: string) => {
    for (const name of readdirSync(folder)) {
      if (NOT_OURS.has(name)) continue;
      const path = join(folder, name);
      if (statSync(path).isDirectory()) walk(path);
      else if (name.endsWith('.ts')) {
        found.push({
          path: relative(ROOT, path).split(sep).join('/'),
          text: readFileSync(path, 'utf8'),
        });
      }
    }
  };
  for (const folder of folders) walk(join(ROOT, folder));
  return found;
}

/** What a file imports, static and dynamic, types too. */
export function importsOf(file: SourceFile): string[] {
  return [...file.text.matchAll(/(?:\bfrom|\bimport)\s*\(?\s*'([^']+)'/g)].map(
    (match) => match[1]!,
  );
}
