import type { LinkReport, ReadingStatus } from '@taptrue/protocol';
import { readingStanding, readingText } from '@taptrue/web/view/reading-standing.ts';
import { describe, expect, it } from 'vitest';
import { exampleReading } from '../../browser/example-parts.ts';

const live = {
  indicator: exampleReading(0.00214),
  readout: null,
  ageMs: 40,
  staleAfterMs: 250,
  xMm: null,
};
const streams = { state: 'live', trigger: 'streams' } as const;
const ownKey = { state: 'waiting for its key', trigger: 'its own key' } as const;

function wordOf(change: {
  link?: Pick<LinkReport, 'state' | 'trigger'>;
  sinceReceiptMs?: number;
  connected?: boolean;
  range?: { lowMm: number; highMm: number };
  status?: ReadingStatus;
}) {
  const { word, greyed } = readingStanding({
    live: { ...live, indicator: { ...live.indicator, status: change.status ?? 'ok' } },
    link: change.link ?? streams,
    connected: change.connected ?? true,
    sinceReceiptMs: change.sinceReceiptMs ?? 0,
    range: change.range ?? null,
  });
  return `${word}${greyed ? ', greyed' : ''}`;
}

describe('what a reading on the glass is worth', () => {
  it.each([
    ['a fresh streamed reading', {}, 'live'],
    ['40 ms old when sent, 210 ms here', { sinceReceiptMs: 210 }, 'live'],
    ['40 ms old when sent, 211 ms here', { sinceReceiptMs: 211 }, 'stale, greyed'],
    [
      'an asked device gone quiet',
      { link: { state: 'live', trigger: 'asked' }, sinceReceiptMs: 900 },
      'stale, greyed',
    ],
    [
      'a device with a key, an hour later',
      { link: ownKey, sinceReceiptMs: 3_600_000 },
      'last sent',
    ],
    [
      'typed in by hand',
      { link: { state: 'not set', trigger: null }, sinceReceiptMs: 60_000 },
      'keyed in',
    ],
    ['hold shown on the dial', { status: 'hold' }, 'held, greyed'],
    ['the dial at its stop', { status: 'over range' }, 'over range, greyed'],
    [
      'a reading at the end of its range',
      { range: { lowMm: -1, highMm: 0.00214 } },
      'at its stop, greyed',
    ],
    ['a reading inside its range', { range: { lowMm: -1, highMm: 1 } }, 'live'],
    ['an error on the dial', { status: 'error' }, 'not a reading, greyed'],
    ['a low battery', { status: 'low battery' }, 'live'],
    ['a held reading that is old', { status: 'hold', sinceReceiptMs: 400 }, 'stale, greyed'],
    ['the device unplugged', { link: { state: 'lost', trigger: 'streams' } }, 'lost, greyed'],
    ['the service gone', { connected: false }, 'lost, greyed'],
  ] as const)('%s', (_name, change, expected) => {
    expect(wordOf(change)).toBe(expected);
  });

  it('nothing yet is no reading, not a zero', () => {
    const standing = readingStanding({
      live: { ...live, indicator: null, ageMs: null },
      link: streams,
      connected: true,
      sinceReceiptMs: 0,
      range: null,
    });
    expect(standing.word).toBe('no reading');
    expect(readingText(standing.reading)).toBe('—');
  });

  it.each([
    [0.00214, '+0.00214'],
    [-0.0004, '−0.00040'],
    [0, '+0.00000'],
    [-0.000001, '+0.00000'],
  ])('%d is shown with its own decimals as %s', (value, text) => {
    expect(readingText(exampleReading(value))).toBe(text);
  });
});
