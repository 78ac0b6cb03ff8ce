import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Refusal } from '@taptrue/server/cli/command.ts';
import { readSettingsOf } from '@taptrue/server/cli/settings-of.ts';
import { keepSetting } from '@taptrue/server/service/settings/keep-setting.ts';
import {
  mergeSettings,
  settingRows,
  settingsOfEnvironment,
} from '@taptrue/server/service/settings/merge-settings.ts';
import { readSettings } from '@taptrue/server/service/settings/read-settings-file.ts';
import { SETTINGS } from '@taptrue/server/service/settings/setting-names.ts';
import { afterAll, describe, expect, it } from 'vitest';

describe('the settings file', () => {
  it('gives what is in it', () => {
    expect(readSettings('{ "port": 4000, "listen": true, "name": "Mill 2" }')).toEqual({
      settings: { port: 4000, listen: true, name: 'Mill 2' },
      wrong: [],
    });
  });

  it.each<[string, string, RegExp]>([
    [
      'a field that is none',
      '{\n  "prot": 4000\n}',
      /line 2, prot: there is no such setting; known are port/,
    ],
    [
      'a number out of range',
      '{\n\n "port": 70000 }',
      /line 3, port: a whole number from 0 to 65535 is wanted, got 70000/,
    ],
    ['text for a number', '{"port": "4000"}', /line 1, port: .*got "4000"/],
    ['a word for yes', '{"listen": "yes"}', /true or false is wanted/],
    [
      'a unit that is none',
      '{"indicator-unit": "cm"}',
      /one of in, mm, as-sent|one of mm, in, as-sent/,
    ],
    ['no JSON', '{\n  "port": 4000,\n  oops\n}', /^line 3: this is not JSON/],
    ['half a file', '{\n  "port": 40', /^line 2: this is not JSON/],
    ['nothing', '', /^line 1: this is not JSON/],
    ['a list', '[1]', /line 1: a JSON object is wanted/],
  ])('%s is named by line and field', (_what, text, words) => {
    const { wrong } = readSettings(text);
    expect(wrong).toHaveLength(1);
    expect(wrong[0]).toMatch(words);
  });

  it('loses only what is wrong', () => {
    const { settings, wrong } = readSettings('{"port": -1, "name": "Mill 2", "x": 1}');
    expect(settings).toEqual({ name: 'Mill 2' });
    expect(wrong).toHaveLength(2);
  });

  it('may begin with a byte order mark, and name its schema', () => {
    expect(readSettings('\uFEFF{"$schema": "./settings.schema.json", "port": 1}').wrong).toEqual(
      [],
    );
  });
});

describe('the environment', () => {
  it('sets by names made of the settings’', () => {
    const env = {
      TAPTRUE_PORT: '4000',
      TAPTRUE_LISTEN: 'yes',
      TAPTRUE_INDICATOR_BAUD: '4800',
      HOME: '/x',
    };
    expect(settingsOfEnvironment(env)).toEqual({
      given: { port: '4000', listen: true, 'indicator-baud': '4800' },
      wrong: [],
    });
  });

  it.each([
    [{ TAPTRUE_PORT: '70000' }, /TAPTRUE_PORT: a whole number from 0 to 65535/],
    [{ TAPTRUE_PORT: 'abc' }, /TAPTRUE_PORT/],
    [{ TAPTRUE_LISTEN: 'perhaps' }, /TAPTRUE_LISTEN is yes or no, not "perhaps"/],
    [{ TAPTRUE_READOUT_UNIT: 'cm' }, /TAPTRUE_READOUT_UNIT/],
  ])('%o is refused by its name', (env, words) => {
    expect(settingsOfEnvironment(env).wrong.join()).toMatch(words);
  });

  it('counts an empty variable as not set', () => {
    expect(settingsOfEnvironment({ TAPTRUE_NAME: '', TAPTRUE_PORT: '' }).given).toEqual({});
  });
});

describe('the order of origins', () => {
  const from = (...given: Parameters<typeof mergeSettings>) =>
    Object.fromEntries(
      settingRows(mergeSettings(...given)).map(({ name, value, from: origin }) => [
        name,
        `${value} (${origin})`,
      ]),
    );

  it.each([
    [{ port: '1' }, { port: '2' }, { port: 3 }, '1 (command line)'],
    [{}, { port: '2' }, { port: 3 }, '2 (environment)'],
    [{}, {}, { port: 3 }, '3 (settings file)'],
    [{}, {}, {}, '4757 (default)'],
  ])('%o over %o over %o: %s', (commandLine, environment, file, port) => {
    expect(from(commandLine, environment, file).port).toBe(port);
  });

  it('no can be said as strongly as yes', () => {
    expect(from({}, { listen: false }, { listen: true }).listen).toBe('no (environment)');
  });

  it('another port does not inherit shape and speed of the one it replaces', () => {
    const { values } = mergeSettings(
      { indicator: 'COM5' },
      {},
      { indicator: 'COM3', 'indicator-shape': 'comma-list', 'indicator-baud': 4800 },
    );
    expect(values).toEqual({ indicator: 'COM5' });
  });

  it('but a part can be said anew', () => {
    const { values } = mergeSettings(
      { 'indicator-baud': '300' },
      {},
      { indicator: 'COM3', 'indicator-baud': 4800 },
    );
    expect(values).toEqual({ indicator: 'COM3', 'indicator-baud': '300' });
  });

  it.each([
    [
      'a demo asked for on the command line',
      { demo: true },
      { indicator: 'COM3', 'indicator-baud': 9600 },
      { demo: true },
    ],
    [
      'a device asked for on the command line',
      { indicator: 'COM5' },
      { keyed: true },
      { indicator: 'COM5' },
    ],
  ])('%s wins over the file', (_what, commandLine, file, values) => {
    expect(mergeSettings(commandLine, {}, file).values).toEqual(values);
  });
});

describe('what a bench is started with', () => {
  const folders: string[] = [];
  const folderWith = async (text: string | null) => {
    const folder = await mkdtemp(join(tmpdir(), 'taptrue-settings-'));
    folders.push(folder);
    if (text !== null) await writeFile(join(folder, 'settings.json'), text);
    return folder;
  };
  afterAll(async () => {
    for (const folder of folders) await rm(folder, { recursive: true });
  });

  it('is the usual where there is no file', async () => {
    const { options, settings } = await readSettingsOf([], {
      TAPTRUE_DATA: await folderWith(null),
    });
    expect(options).toMatchObject({ port: 4757, name: 'bench', listenToAll: false, connect: {} });
    expect(settings).toMatchObject({ fileRead: false, fault: null });
  });

  it('is what the file in the data folder says', async () => {
    const folder = await folderWith('{"name": "Mill 2", "indicator": "tcp://10.0.0.9:4001"}');
    const { options, settings } = await readSettingsOf(['--data', folder], {});
    expect(options.name).toBe('Mill 2');
    expect(options.connect.indicator?.source).toEqual({
      kind: 'tcp',
      host: '10.0.0.9',
      port: 4001,
    });
    expect(settings.fileRead).toBe(true);
  });

  it.each([
    ['no JSON', '{ "port": ', 'line 1'],
    ['a shape that is none', '{"indicator": "COM3", "indicator-shape": "morse"}', 'morse'],
    ['a port that is none', '{"readout": "ftp://x"}', 'ftp'],
  ])(
    'goes on by the usual values where the file holds %s, and says so',
    async (_what, text, named) => {
      const { options, settings } = await readSettingsOf([], {
        TAPTRUE_DATA: await folderWith(text),
      });
      expect(options).toMatchObject({ port: 4757, connect: {} });
      expect(settings.fault).toMatchObject({
        code: 'settings-not-read',
        got: expect.stringContaining(named),
      });
    },
  );

  it('is the usual where a folder was named in place of the file, and says so', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'taptrue-settings-'));
    const { settings } = await readSettingsOf(['--data', folder, '--settings', folder], {});
    expect(settings.fault).toMatchObject({ got: `a folder in ${folder}` });
    await rm(folder, { recursive: true });
  });

  it.each([
    ['none', ''],
    ['spaces only', '  '],
    ['more than 60 characters', 'm'.repeat(61)],
  ])('is never a name of %s', async (_what, name) => {
    await expect(readSettingsOf(['--name', name], {})).rejects.toThrow(
      /--name takes 1 to 60 characters/,
    );
  });

  it('refuses a file that was named and is not there, and a wrong variable', async () => {
    await expect(readSettingsOf(['--settings', '/nowhere/s.json'], {})).rejects.toThrow(
      /no settings file/,
    );
    await expect(readSettingsOf([], { TAPTRUE_PORT: 'x' })).rejects.toThrow(Refusal);
  });
});

describe('a setting kept from the page', () => {
  const kept = async (before: string | null, name: string, text: string) => {
    const folder = await mkdtemp(join(tmpdir(), 'taptrue-settings-'));
    const file = join(folder, 'below', 'settings.json');
    if (before !== null) {
      await mkdir(join(folder, 'below'));
      await writeFile(file, before);
    }
    const answer = await keepSetting(file, name, text);
    const after = await readFile(file, 'utf8').catch(() => null);
    await rm(folder, { recursive: true });
    return { answer, after };
  };

  it.each<[string | null, string, string, object]>([
    [null, 'port', '4000', { port: 4000 }],
    ['{"name": "Mill 2"}', 'listen', 'yes', { name: 'Mill 2', listen: true }],
    ['{"listen": true}', 'listen', 'no', { listen: false }],
    ['{"$schema": "s", "port": 4000, "name": "x"}', 'port', ' ', { $schema: 's', name: 'x' }],
    ['\uFEFF{}', 'readout-unit', 'mm', { 'readout-unit': 'mm' }],
  ])('%o, %s: %o', async (before, name, text, after) => {
    const done = await kept(before, name, text);
    expect(done.answer).toMatchObject({ ok: true, note: expect.stringContaining('next start') });
    expect(JSON.parse(done.after!)).toEqual(after);
  });

  it.each([
    ['{"port": 1}', 'port', '70000', /port: a whole number from 0 to 65535/],
    ['{"port": 1}', 'prot', '4000', /there is no such setting/],
    ['{"port": 1}', 'prot', '', /there is no such setting/],
    ['{"port": 1}', 'listen', 'perhaps', /true or false/],
    ['{"port": ', 'port', '4000', /line 1: this is not JSON/],
    ['{"prot": 4}', 'port', '4000', /prot/],
  ])('in %o, %s is not kept as %o, and nothing is written', async (before, name, text, got) => {
    const { answer, after } = await kept(before, name, text);
    expect(answer).toMatchObject({ ok: false, fault: { code: 'setting-not-kept' } });
    if (!answer.ok) expect(answer.fault.got).toMatch(got);
    expect(after).toBe(before);
  });
});

describe('every setting', () => {
  it('says what it is for, and is an option of serve', async () => {
    const { serveCommand } = await import('@taptrue/server/cli/serve-command.ts');
    for (const { name, what } of SETTINGS) {
      expect(what, name).not.toBe('');
      const spelled = name.startsWith('readout-') ? '--readout PORT ...' : `--${name}`;
      expect(serveCommand.help).toContain(spelled);
    }
  });

  it('is in the table of the page about the service', async () => {
    const readme = await readFile(
      new URL('../../../../server/service/README.md', import.meta.url),
      'utf8',
    );
    for (const { name } of SETTINGS) expect(readme).toContain(`\`${name}\``);
  });
});
