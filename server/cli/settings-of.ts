import { join } from 'node:path';
import type { SettingsSection } from '@taptrue/protocol';
import { usualDataFolder } from '../files/data-folder.ts';
import { settingRows, settingsOfEnvironment } from '../service/settings/merge-settings.ts';
import { readSettingsFile } from '../service/settings/read-settings-file.ts';
import { DATA_VARIABLE, FILE_VARIABLE } from '../service/settings/setting-names.ts';
import { Refusal } from './command.ts';
import { ownShapesIn } from './own-shapes.ts';
import { readServeArguments, readServeOptions, type ServeOptions } from './serve-options.ts';

export interface SettingsOf {
  options: ServeOptions;
  dataFolder: string;
  settings: SettingsSection;
}

/**
 * Everything that was set for a bench, by the command line, the environment and the settings file, in that
 * order. Refuses what is wrong in the first two; a broken file is a fault in the section.
 */
export async function readSettingsOf(
  args: string[],
  env: Readonly<Record<string, string | undefined>> = process.env,
): Promise<SettingsOf> {
  const said = readServeArguments(args);
  const dataFolder = said.dataFolder ?? (env[DATA_VARIABLE] || usualDataFolder());
  const file = said.settingsFile ?? (env[FILE_VARIABLE] || join(dataFolder, 'settings.json'));
  const environment = settingsOfEnvironment(env);
  if (environment.wrong.length > 0) throw new Refusal(`${environment.wrong.join('. ')}.`);
  const read = await readSettingsFile(file);
  const options = readServeOptions(args, {
    environment: environment.given,
    file: read.settings,
    table: ownShapesIn(dataFolder),
  });
  if (!read.exists && said.settingsFile !== null) {
    throw new Refusal(
      `There is no settings file ${file}. Give the path of one, or leave --settings out.`,
    );
  }
  return {
    options,
    dataFolder,
    settings: {
      file,
      fileRead: read.exists && read.fault === null,
      rows: settingRows(options.merged),
      fault: read.fault ?? options.faults[0] ?? null,
    },
  };
}
