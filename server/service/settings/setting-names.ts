import { Settings } from '@taptrue/protocol';

/** One setting: its name is an option, a variable of the environment and a field of the file. */
export interface Setting {
  name: string;
  kind: 'text' | 'whole number' | 'yes or no';
  what: string;
  variable: string;
  /** What holds where nothing is said, in words. */
  usual: string;
}

/** Where a device is named, these hold unless something else is said. */
const USUAL: Readonly<Record<string, string>> = {
  port: '4757',
  listen: 'no',
  name: 'bench',
  keyed: 'no',
  demo: 'where no device is known',
  'indicator-shape': 'signed-decimal',
  'indicator-unit': 'as-sent',
  'readout-shape': 'axis-readout',
  'readout-unit': 'as-sent',
};

function kindOf(schema: { type?: string }): Setting['kind'] {
  if (schema.type === 'integer') return 'whole number';
  return schema.type === 'boolean' ? 'yes or no' : 'text';
}

export const SETTINGS: readonly Setting[] = Object.entries(
  Settings.properties as Record<string, { type?: string; description?: string }>,
)
  .filter(([name]) => name !== '$schema')
  .map(([name, schema]) => ({
    name,
    kind: kindOf(schema),
    what: schema.description ?? '',
    variable: `TAPTRUE_${name.toUpperCase().replaceAll('-', '_')}`,
    usual: USUAL[name] ?? '',
  }));

/** Said on the command line or in the environment only: the file lies in that folder, or is that file. */
export const DATA_VARIABLE = 'TAPTRUE_DATA';
export const FILE_VARIABLE = 'TAPTRUE_SETTINGS';
