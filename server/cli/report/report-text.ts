import type { LinkReport, PortRow, SettingsSection, StandingFault } from '@taptrue/protocol';

export interface ReportFacts {
  version: string;
  system: readonly [name: string, value: string][];
  ports: readonly Pick<PortRow, 'path' | 'identity' | 'title' | 'knownBy' | 'hindrance'>[];
  settings: SettingsSection;
  /** Null: no service answers. */
  running: {
    links: Readonly<
      Record<string, Pick<LinkReport, 'state' | 'config' | 'counters' | 'fault' | 'lastText'>>
    >;
    faults: readonly StandingFault[];
    health: Readonly<Record<string, string | number>>;
  } | null;
}

/** The report as one text, in sections a reader can find. Not redacted yet. Pure. */
export function reportText(facts: ReportFacts): string {
  return [
    `Taptrue ${facts.version}`,
    '',
    ...section(
      'System',
      facts.system.map(([name, value]) => `${name}: ${value}`),
    ),
    ...section('Ports', facts.ports.map(portLine), 'none'),
    ...section('Settings', [
      `file: ${facts.settings.file}${facts.settings.fileRead ? '' : facts.settings.fault ? ' (not used)' : ' (there is none)'}`,
      ...facts.settings.rows
        .filter(({ from }) => from !== 'default')
        .map(({ name, value, from }) => `${name} = ${value} (${from})`),
      ...(facts.settings.fault ? [faultText(facts.settings.fault)] : []),
    ]),
    ...runningSections(facts.running),
  ].join('\n');
}

function runningSections(running: ReportFacts['running']): string[] {
  if (running === null) {
    return [
      'Service',
      '  does not answer: start it and make the report again to have its devices and faults',
      '',
    ];
  }
  return [
    ...section(
      'Service',
      Object.entries(running.health).map(([name, value]) => `${name}: ${value}`),
    ),
    ...section(
      'Devices',
      Object.entries(running.links).flatMap(([name, link]) => deviceLines(name, link)),
    ),
    ...section(
      'Last faults',
      running.faults.map((fault) => `${fault.from}: ${faultText(fault)} (${fault.times} times)`),
      'none',
    ),
  ];
}

function portLine({
  path,
  identity,
  title,
  knownBy,
  hindrance,
}: ReportFacts['ports'][number]): string {
  return [
    path,
    identity,
    title,
    `known by ${knownBy}`,
    hindrance ? `${hindrance.code}: ${hindrance.remedy}` : 'may be opened',
  ].join('; ');
}

function deviceLines(
  name: string,
  {
    state,
    config,
    counters,
    fault,
    lastText,
  }: NonNullable<ReportFacts['running']>['links'][string],
): string[] {
  if (config === null) return [`${name}: ${state}`];
  const counted = Object.entries(counters)
    .filter(([, count]) => count > 0)
    .map(([counter, count]) => `${counter} ${count}`);
  return [
    `${name}: ${state}; ${JSON.stringify(config.source)}; shape ${config.shape}; unit ${config.unit}; channel ${config.channel ?? 'first seen'}`,
    `${name}: ${counted.join(', ') || 'nothing came'}; last: ${lastText || 'nothing'}`,
    ...(fault ? [`${name}: ${faultText(fault)}`] : []),
  ];
}

function faultText({ code, what, got }: Pick<StandingFault, 'code' | 'what' | 'got'>): string {
  return got ? `${code}: ${what} Got: ${got}` : `${code}: ${what}`;
}

function section(title: string, lines: readonly string[], empty = ''): string[] {
  const shown = lines.length === 0 && empty !== '' ? [empty] : lines;
  return [title, ...shown.map((line) => `  ${line}`), ''];
}
