import type { LinkConfig, PortRow } from '@taptrue/protocol';
import {
  agoText,
  portOf,
  portUseWords,
  rhythmText,
  sourceWords,
} from '@taptrue/web/places/devices/view/line-words.ts';
import { linkConfigOf } from '@taptrue/web/places/devices/view/link-source-text.ts';
import { describe, expect, it } from 'vitest';

const port = (path: string, identity: string, change: Partial<PortRow> = {}): PortRow => ({
  path,
  identity,
  title: 'adapter',
  knownBy: 'serial number',
  usedBy: null,
  hindrance: null,
  ...change,
});
const config = (source: LinkConfig['source']): LinkConfig => ({
  source,
  shape: 'signed-decimal',
  unit: 'in',
  channel: null,
});

describe('the words of a line', () => {
  it.each([
    [null, 'none yet'],
    [0, 'just now'],
    [1499, 'just now'],
    [1500, '2 s ago'],
    [119_000, '119 s ago'],
    [120_000, '2 min ago'],
    [3_600_000, '60 min ago'],
    [7_200_000, '2 h ago'],
  ])('a last reading %s ms old came %s', (ms, words) => {
    expect(agoText(ms)).toBe(words);
  });

  it.each([
    [10, 100, 12.4, '10 a second, one every 100 ms, uneven by up to 12 ms'],
    [3.2, null, null, '3.2 a second'],
  ])('%s a second', (readingsPerSecond, usualGapMs, jitterMs, words) => {
    const line = { rows: [], bytes: { text: '', hex: '' }, usualGapMs, jitterMs, sinceLastMs: 0 };
    expect(rhythmText({ readingsPerSecond }, line)).toBe(words);
  });
});

describe('the port of a device', () => {
  const ports = [port('/dev/ttyUSB0', 'a'), port('/dev/ttyUSB1', 'b')];

  it.each<[string, LinkConfig['source'], string]>([
    [
      'where it is now',
      { kind: 'serial', path: '/dev/ttyUSB0', settings: null, identity: 'b' },
      '/dev/ttyUSB1',
    ],
    [
      'by its name where no more is known',
      { kind: 'serial', path: '/dev/ttyUSB0', settings: null },
      '/dev/ttyUSB0',
    ],
    ['as it was typed', { kind: 'serial', path: '/dev/pts/3', settings: null }, '/dev/pts/3'],
    ['on the network', { kind: 'tcp', host: '10.0.0.9', port: 4001 }, '10.0.0.9:4001'],
  ])('is said %s', (_what, source, words) => {
    expect(sourceWords(config(source), ports)).toBe(words);
  });

  it('is none of the list for a device that is away', () => {
    const away = config({ kind: 'serial', path: '/dev/ttyUSB0', settings: null, identity: 'c' });
    expect(portOf(away, ports)).toBeNull();
  });

  it('is used, free, or not to be opened', () => {
    const fault = { code: 'port-no-permission' as const, what: '', got: '', remedy: '' };
    expect(portUseWords(port('p', 'i', { usedBy: 'readout', hindrance: fault }))).toBe(
      'used for the readout',
    );
    expect(portUseWords(port('p', 'i'))).toBe('free');
    expect(portUseWords(port('p', 'i', { hindrance: fault }))).toBe('cannot be opened');
  });
});

describe('speed and framing as typed', () => {
  const typed = {
    source: '/dev/ttyUSB0',
    shape: 'signed-decimal',
    unit: 'in',
    channel: '',
  } as const;
  const settingsOf = (baud: string, framing: '' | '7E1' | '8N2') => {
    const made = linkConfigOf({ ...typed, baud, framing });
    return made.ok && made.value.source.kind === 'serial' ? made.value.source.settings : made;
  };

  it('are the shape’s own where nothing is typed, and 9600 8N1 filled up where one is', () => {
    expect(settingsOf('', '')).toBeNull();
    expect(settingsOf('4800', '')).toEqual({
      baudRate: 4800,
      dataBits: 8,
      parity: 'none',
      stopBits: 1,
    });
    expect(settingsOf('', '7E1')).toEqual({
      baudRate: 9600,
      dataBits: 7,
      parity: 'even',
      stopBits: 1,
    });
    expect(settingsOf('300', '8N2')).toEqual({
      baudRate: 300,
      dataBits: 8,
      parity: 'none',
      stopBits: 2,
    });
  });

  it.each(['fast', '109', '4000001', '96.5'])('%s is no speed', (baud) => {
    expect(settingsOf(baud, '')).toMatchObject({ ok: false, why: expect.stringContaining(baud) });
  });
});
