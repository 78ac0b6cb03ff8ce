import { Settings } from '@taptrue/protocol';
import { readArguments } from './arguments.ts';
import { type CliCommand, EXIT, Refusal } from './command.ts';
import { readSettingsOf } from './settings-of.ts';
import { textTable } from './text-table.ts';

const HELP = [
  'taptrue settings [--data FOLDER] [--settings FILE] [--json | --schema]',
  '',
  'Shows what a bench would be started with and where each value comes from. The command line of serve is',
  'stronger than the environment, that than the settings file, that than what is usual.',
  '',
  '  --json     the same as one JSON object',
  '  --schema   the JSON schema of the settings file, for an editor',
].join('\n');

/** `taptrue settings`: exit 0; a broken file is told on standard error, as the service would tell it. */
export const settingsCommand: CliCommand = {
  name: 'settings',
  summary: 'shows the settings and where each comes from',
  help: HELP,
  async run(args, terminal) {
    const { values, positionals } = readArguments(args, {
      data: { type: 'string' },
      settings: { type: 'string' },
      json: { type: 'boolean' },
      schema: { type: 'boolean' },
    });
    if (positionals.length > 0) {
      throw new Refusal(`taptrue settings takes no name; got "${positionals[0]}".`);
    }
    if (values.schema) {
      terminal.out(JSON.stringify(Settings, null, 2));
      return EXIT.done;
    }
    const { settings } = await readSettingsOf([
      ...(values.data === undefined ? [] : ['--data', values.data]),
      ...(values.settings === undefined ? [] : ['--settings', values.settings]),
    ]);
    if (values.json) {
      terminal.out(JSON.stringify(settings, null, 2));
      return EXIT.done;
    }
    terminal.out(
      textTable(
        ['SETTING', 'VALUE', 'FROM', 'VARIABLE'],
        settings.rows.map((row) => [row.name, row.value, row.from, row.variable]),
      ),
    );
    terminal.out('');
    terminal.out(
      `Settings file: ${settings.file}${settings.fileRead ? '' : settings.fault ? ' (see below)' : ' (there is none)'}`,
    );
    if (settings.fault) {
      terminal.err(`${settings.fault.what} Got: ${settings.fault.got}. ${settings.fault.remedy}`);
    }
    return EXIT.done;
  },
};
