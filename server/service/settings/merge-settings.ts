import type { SettingOrigin, SettingRow, Settings } from '@taptrue/protocol';
import { whyWrong } from './read-settings-file.ts';
import { SETTINGS, type Setting } from './setting-names.ts';

export type Given = Partial<Record<string, string | boolean>>;

export interface Merged {
  /** As the options of the command line would be, so that one reader checks them all. */
  values: Given;
  from: Record<string, Exclude<SettingOrigin, 'default'>>;
}

/** What an origin that is not the command line may say of a yes-or-no. */
const YES = new Set(['1', 'true', 'yes', 'on']);
const NO = new Set(['0', 'false', 'no', 'off', '']);

/** These exclude each other: the stronger origin wins, and only within one origin is it a mistake. */
const DEVICES = ['indicator', 'readout'] as const;
const WITHOUT_DEVICE = ['demo', 'keyed'] as const;
const RANK: Readonly<Record<Exclude<SettingOrigin, 'default'>, number>> = {
  'command line': 3,
  environment: 2,
  'settings file': 1,
};

/** Variables of the environment that are settings, as options would be. Wrong ones are named. Pure. */
export function settingsOfEnvironment(env: Readonly<Record<string, string | undefined>>): {
  given: Given;
  wrong: string[];
} {
  const given: Given = {};
  const wrong: string[] = [];
  for (const setting of SETTINGS) {
    const text = env[setting.variable];
    if (text === undefined || (text === '' && setting.kind !== 'yes or no')) continue;
    const why =
      setting.kind === 'yes or no' ? null : whyWrong(setting.name, asGiven(setting, text));
    if (why !== null) wrong.push(`${setting.variable}: ${why}`);
    else if (setting.kind !== 'yes or no') given[setting.name] = text;
    else if (YES.has(text.toLowerCase())) given[setting.name] = true;
    else if (NO.has(text.toLowerCase())) given[setting.name] = false;
    else wrong.push(`${setting.variable} is yes or no, not "${text}"`);
  }
  return { given, wrong };
}

/** Command line over environment over file. A device and its parts come from one origin only. Pure. */
export function mergeSettings(commandLine: Given, environment: Given, file: Settings): Merged {
  const merged: Merged = { values: {}, from: {} };
  const origins: [Exclude<SettingOrigin, 'default'>, Given][] = [
    ['settings file', textsOf(file)],
    ['environment', environment],
    ['command line', commandLine],
  ];
  for (const [origin, given] of origins) {
    for (const [name, value] of Object.entries(given)) {
      if (value === undefined) continue;
      // Another port is another device: what a weaker origin said of the old one is not its shape or speed.
      if (isDevice(name))
        forget(merged, (other) => other.startsWith(`${name}-`) && !(other in given));
      merged.values[name] = value;
      merged.from[name] = origin;
    }
  }
  settleDemo(merged);
  return merged;
}

/** The values as a page shows them, each with where it came from. Pure. */
export function settingRows(merged: Merged): SettingRow[] {
  return SETTINGS.map((setting) => ({
    name: setting.name,
    value: shown(setting, merged.values[setting.name]),
    from: merged.from[setting.name] ?? 'default',
    what: setting.what,
    variable: setting.variable,
  }));
}

function shown(setting: Setting, value: string | boolean | undefined): string {
  if (value === undefined) return setting.usual;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return value;
}

function asGiven({ kind }: Setting, text: string): string | number {
  return kind === 'whole number' && /^\d+$/.test(text) ? Number(text) : text;
}

function settleDemo(merged: Merged): void {
  const rankOf = (names: readonly string[]) =>
    Math.max(
      0,
      ...names
        .filter((name) => merged.values[name] !== undefined && merged.values[name] !== false)
        .map((name) => RANK[merged.from[name]!]),
    );
  const devices = rankOf(DEVICES);
  const without = rankOf(WITHOUT_DEVICE);
  if (devices > without) forget(merged, (name) => WITHOUT_DEVICE.some((other) => other === name));
  if (without > devices) forget(merged, (name) => DEVICES.some((other) => name.startsWith(other)));
}

function forget(merged: Merged, isGone: (name: string) => boolean): void {
  for (const name of Object.keys(merged.values)) {
    if (!isGone(name)) continue;
    delete merged.values[name];
    delete merged.from[name];
  }
}

function isDevice(name: string): boolean {
  return DEVICES.some((device) => device === name);
}

function textsOf(file: Settings): Given {
  return Object.fromEntries(
    Object.entries(file).map(([name, value]) => [
      name,
      typeof value === 'number' ? String(value) : value,
    ]),
  );
}
