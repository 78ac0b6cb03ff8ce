import { readFile, rename, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Answer, Fault, Role, SettingsSection } from '@taptrue/protocol';
import { makeFolder } from '../../files/make-folder.ts';
import { readSettings, whyWrong } from './read-settings-file.ts';
import { SETTINGS } from './setting-names.ts';

const YES = new Set(['yes', 'true', '1', 'on']);
const NO = new Set(['no', 'false', '0', 'off']);

/** The same, for whoever asks; without a settings file named, the one in the data folder. */
export async function keepSettingAs(
  role: Role,
  { name, text }: { name: string; text: string },
  options: { dataFolder: string; settings?: SettingsSection },
): Promise<Answer> {
  if (role !== 'bench screen') return { ok: false, fault: benchScreenOnly() };
  const file = options.settings?.file || join(options.dataFolder, 'settings.json');
  return keepSetting(file, name, text);
}

/**
 * Writes one setting into the settings file and leaves the rest as it is; an empty text takes it out. Holds
 * from the next start on. Refused where the value is none, or the file is not one that could be added to.
 */
export async function keepSetting(path: string, name: string, text: string): Promise<Answer> {
  const setting = SETTINGS.find((known) => known.name === name);
  const value = setting && text.trim() !== '' ? valueOfText(setting.kind, text.trim()) : undefined;
  if (!setting || value !== undefined) {
    const why = whyWrong(name, value);
    if (why !== null) return refused(`${name}: ${why}`, 'Nothing was written.');
  }
  const before = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return '{}';
    return null;
  });
  if (before === null) return refused(`${path} cannot be read`, 'Give this user the right to it.');
  const { wrong } = readSettings(before);
  if (wrong.length > 0) return refused(wrong.join('; '), `Put ${path} right by hand first.`);
  const { [name]: _before, ...rest } = JSON.parse(before.replace(/^\uFEFF/, '')) as Record<
    string,
    unknown
  >;
  const after = value === undefined ? rest : { ...rest, [name]: value };
  try {
    makeFolder(dirname(path));
    await writeFile(`${path}.new`, `${JSON.stringify(after, null, 2)}\n`);
    // Whole or not at all: a file half written would be a broken one at the next start.
    await rename(`${path}.new`, path);
  } catch (error) {
    return refused(
      `${error instanceof Error ? error.message : error}`,
      'Make room or change the rights of the folder.',
    );
  }
  const kept = value === undefined ? `${name} is taken out of` : `${name} is kept in`;
  return {
    ok: true,
    note: `${kept} the settings file. It holds from the next start of the service on.`,
  };
}

function valueOfText(kind: string, text: string): string | number | boolean {
  if (kind === 'whole number' && /^\d+$/.test(text)) return Number(text);
  if (kind === 'yes or no' && YES.has(text.toLowerCase())) return true;
  if (kind === 'yes or no' && NO.has(text.toLowerCase())) return false;
  return text;
}

function refused(got: string, remedy: string): Answer {
  const fault: Fault = {
    code: 'setting-not-kept',
    what: 'The setting was not kept.',
    got,
    remedy,
  };
  return { ok: false, fault };
}

/** Settings say what the service opens and listens to: not from a tablet. */
function benchScreenOnly(): Fault {
  return {
    code: 'bench-screen-only',
    what: 'Settings are changed on the bench screen only.',
    got: '',
    remedy: 'Do it on the computer the service runs on.',
  };
}
