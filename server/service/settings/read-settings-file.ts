import { readFile } from 'node:fs/promises';
import { type Fault, Settings } from '@taptrue/protocol';
import { Value } from 'typebox/value';
import { SETTINGS } from './setting-names.ts';

/** A settings file is a dozen lines; more is another file. */
const LONGEST_FILE_BYTES = 65_536;

export interface SettingsRead {
  /** Only what is right; what is wrong is left out and named by the fault. */
  settings: Settings;
  /** False where there is none. */
  exists: boolean;
  fault: Fault | null;
}

/** Never rejects: a file that cannot be read or is wrong costs its own values, not the service. */
export async function readSettingsFile(path: string): Promise<SettingsRead> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null;
    if (code === 'ENOENT' || code === 'ENOTDIR')
      return { settings: {}, exists: false, fault: null };
    return {
      settings: {},
      exists: true,
      fault:
        code === 'EISDIR'
          ? broken(path, 'a folder', 'Name the file in it: --settings FILE.')
          : broken(path, String(error), 'Give this user the right to read it.'),
    };
  }
  if (text.length > LONGEST_FILE_BYTES) {
    const got = `${text.length} characters`;
    return { settings: {}, exists: true, fault: broken(path, got, 'Is it the right file?') };
  }
  const { settings, wrong } = readSettings(text);
  const fault =
    wrong.length === 0
      ? null
      : broken(path, wrong.join('; '), 'Put it right and start the service anew.');
  return { settings, exists: true, fault };
}

/** The right values of the text, and each wrong one with its line. Pure. */
export function readSettings(text: string): { settings: Settings; wrong: string[] } {
  let value: unknown;
  try {
    // An editor of another system may begin the file with a byte order mark.
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    return { settings: {}, wrong: [syntaxWords(text, error)] };
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return { settings: {}, wrong: ['line 1: a JSON object is wanted, { … }'] };
  }
  const settings: Settings = {};
  const wrong: string[] = [];
  for (const [name, given] of Object.entries(value)) {
    const why = name === '$schema' ? null : whyWrong(name, given);
    if (why !== null) wrong.push(`line ${lineOf(text, name)}, ${name}: ${why}`);
    else if (name !== '$schema') settings[name] = given as string | number | boolean;
  }
  return { settings, wrong };
}

/** Why this is no value of that setting; null: it is one. Pure. */
export function whyWrong(name: string, given: unknown): string | null {
  const setting = SETTINGS.find((known) => known.name === name);
  if (!setting)
    return `there is no such setting; known are ${SETTINGS.map((known) => known.name).join(', ')}`;
  const schema = (Settings.properties as Record<string, object>)[name]!;
  if (Value.Check(schema, given)) return null;
  return `${wantedWords(setting.kind, schema)} is wanted, got ${JSON.stringify(given)}`;
}

function wantedWords(
  kind: string,
  schema: {
    minimum?: number;
    maximum?: number;
    anyOf?: { const?: string; anyOf?: { const?: string }[] }[];
  },
): string {
  if (kind === 'yes or no') return 'true or false';
  if (kind === 'whole number') return `a whole number from ${schema.minimum} to ${schema.maximum}`;
  const words = schema.anyOf?.flatMap(
    (one) => one.const ?? one.anyOf?.map((inner) => inner.const) ?? [],
  );
  return words ? `one of ${words.join(', ')}` : 'a text, not too long,';
}

/** Where `"name"` stands, counted from 1; the first line where it cannot be found. */
function lineOf(text: string, name: string): number {
  const at = text.indexOf(`${JSON.stringify(name)}`);
  return at === -1 ? 1 : text.slice(0, at).split('\n').length;
}

/** The parser's own words, with the line in place of its position. */
function syntaxWords(text: string, error: unknown): string {
  const said = error instanceof Error ? error.message : String(error);
  const at = /position (\d+)/.exec(said)?.[1];
  const line =
    at === undefined
      ? text.trimEnd().split('\n').length
      : text.slice(0, Number(at)).split('\n').length;
  return `line ${line}: this is not JSON (${said})`;
}

function broken(path: string, got: string, remedy: string): Fault {
  return {
    code: 'settings-not-read',
    what: 'Part of the settings file could not be used; the usual values hold in its place.',
    got: `${got} in ${path}`,
    remedy,
  };
}
