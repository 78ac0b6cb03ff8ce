import type { LineView, LinkReport, PortRow } from '@taptrue/protocol';

/** Older than this is told in seconds, and with a word for it. */
const SECONDS_FROM_MS = 1500;

/** `12 s ago`, `3 min ago`; `just now` while readings come. */
export function agoText(sinceLastMs: number | null): string {
  if (sinceLastMs === null) return 'none yet';
  if (sinceLastMs < SECONDS_FROM_MS) return 'just now';
  const seconds = Math.round(sinceLastMs / 1000);
  if (seconds < 120) return `${seconds} s ago`;
  const minutes = Math.round(seconds / 60);
  return minutes < 120 ? `${minutes} min ago` : `${Math.round(minutes / 60)} h ago`;
}

/** `10.0 a second, every 100 ms, uneven by up to 12 ms`. */
export function rhythmText(report: Pick<LinkReport, 'readingsPerSecond'>, line: LineView): string {
  const { readingsPerSecond } = report;
  const rate = `${readingsPerSecond.toFixed(readingsPerSecond < 10 ? 1 : 0)} a second`;
  if (line.usualGapMs === null || line.jitterMs === null) return rate;
  return `${rate}, one every ${Math.round(line.usualGapMs)} ms, uneven by up to ${Math.round(line.jitterMs)} ms`;
}

/** What a port is used for, in words: `indicator`, `free`, or why it could not be used. */
export function portUseWords(port: PortRow): string {
  if (port.usedBy !== null) return `used for the ${port.usedBy}`;
  return port.hindrance === null ? 'free' : 'cannot be opened';
}

export const KNOWN_BY_WORDS: Readonly<Record<PortRow['knownBy'], string>> = {
  'serial number': 'known by its serial number, in whatever socket',
  'name by id': 'known by its name',
  socket: 'known by its socket only: keep it in this one',
  'port name': 'known by the name of the port only',
};

/** The port a device is on now; the identity finds it under whatever name it has. */
export function portOf(config: LinkReport['config'], ports: readonly PortRow[]): PortRow | null {
  const source = config?.source;
  if (source?.kind !== 'serial' && source?.kind !== 'modbus rtu') return null;
  const { identity, path } = source;
  return (
    ports.find((port) =>
      identity === undefined ? port.path === path : port.identity === identity,
    ) ?? null
  );
}

/** Where the readings of a device come from, in a few words. */
export function sourceWords(config: LinkReport['config'], ports: readonly PortRow[]): string {
  const source = config?.source;
  if (!source) return '';
  switch (source.kind) {
    case 'serial':
      return portOf(config, ports)?.path ?? source.path;
    case 'tcp':
      return `${source.host}:${source.port}`;
    case 'simulated':
      return 'the simulated bench';
    case 'modbus tcp':
      return `register ${source.read.address} of unit ${source.read.unitId} at ${source.host}:${source.port}`;
    case 'modbus rtu':
      return `register ${source.read.address} of unit ${source.read.unitId} on ${portOf(config, ports)?.path ?? source.path}`;
    case 'mtconnect':
      return `${source.item} of the agent at ${source.host}:${source.port}${source.path}`;
  }
}
