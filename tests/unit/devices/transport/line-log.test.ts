import type { Reading } from '@taptrue/protocol';
import { escapeControls } from '@taptrue/server/devices/formats/escape-controls.ts';
import { hexOfText } from '@taptrue/server/devices/formats/hex-of-text.ts';
import { LineLog } from '@taptrue/server/devices/transport/line-log.ts';
import { describe, expect, it } from 'vitest';

const reading = (change: Partial<Reading> = {}): Reading => ({
  sequence: 0,
  atMs: 0,
  text: '',
  channel: null,
  value: -0.0125,
  unit: 'mm',
  valueMm: -0.0125,
  decimals: 4,
  status: 'ok',
  ...change,
});

describe('what came, as it is shown', () => {
  it('is each frame with its bytes and what it was understood as; the rest stays empty', () => {
    const log = new LineLog();
    log.came('-0.0125\\r');
    log.understood(reading());
    log.came('\\x02X?');
    const { rows } = log.view(0, hexOfText);
    expect(rows).toEqual([
      { text: '-0.0125\\r', hex: '2d 30 2e 30 31 32 35 0d', understood: '−0.0125 mm' },
      { text: '\\x02X?', hex: '02 58 3f', understood: '' },
    ]);
  });

  it('names channel and status, and both axes of one frame', () => {
    const log = new LineLog();
    log.came('f');
    log.understood(reading({ channel: 'X', value: null, status: 'over range' }));
    log.understood(reading({ channel: 'Y', value: 1, decimals: 2 }));
    expect(log.view(0, null).rows[0]).toEqual({
      text: 'f',
      hex: '',
      understood: 'X, no number, over range; Y, 1.00 mm',
    });
  });

  it('keeps the last six of a million', () => {
    const log = new LineLog();
    for (let frame = 0; frame < 1_000_000; frame += 1) log.came(String(frame));
    expect(log.view(0, null).rows.map(({ text }) => text)).toEqual([
      '999994',
      '999995',
      '999996',
      '999997',
      '999998',
      '999999',
    ]);
  });

  it.each([0x00, 0x02, 0x09, 0x0a, 0x0d, 0x5c, 0x41, 0x7f, 0xfe, 0xff])(
    'byte %i is shown as itself, but for the backslash that cannot be told from an escape',
    (byte) => {
      const text = escapeControls(String.fromCharCode(byte));
      expect(hexOfText(text)).toBe(byte.toString(16).padStart(2, '0'));
    },
  );
});

describe('the last bytes', () => {
  const lastOf = (...chunks: string[]) => {
    const log = new LineLog();
    for (const chunk of chunks) log.bytes(new Uint8Array(Buffer.from(chunk, 'latin1')));
    return log.view(0, null).bytes;
  };

  it.each([
    [['+0.1\r\n'], '+0.1\\r\\n', '2b 30 2e 31 0d 0a'],
    [['+0', '.1\r', '\n'], '+0.1\\r\\n', '2b 30 2e 31 0d 0a'],
    [['\xfe\x02'], '\\xfe\\x02', 'fe 02'],
    [[], '', ''],
  ])('%o are shown with their line ends, however they were cut', (chunks, text, hex) => {
    expect(lastOf(...chunks)).toEqual({ text, hex });
  });

  it('are 48 of however many', () => {
    const { hex } = lastOf('x'.repeat(100_000), 'y'.repeat(10));
    expect(hex.split(' ')).toEqual([...Array(38).fill('78'), ...Array(10).fill('79')]);
  });
});

describe('how evenly readings come', () => {
  const after = (...atMs: number[]) => {
    const log = new LineLog();
    for (const at of atMs) log.gave(at);
    return log.view(atMs.at(-1)! + 40, null);
  };

  it.each<[string, number[], number | null, number | null]>([
    ['evenly', [0, 100, 200, 300, 400], 100, 0],
    ['one late by 30 ms', [0, 100, 200, 330, 400, 500], 100, 30],
    ['too few to say', [0, 100, 200], null, null],
  ])('%s', (_what, atMs, usualGapMs, jitterMs) => {
    expect(after(...atMs)).toMatchObject({ usualGapMs, jitterMs, sinceLastMs: 40 });
  });

  it('says once each time that readings come again after something else', () => {
    const log = new LineLog();
    log.missed();
    const again = [log.gave(0)];
    log.missed();
    log.missed();
    again.push(log.gave(100), log.gave(200));
    log.missed();
    again.push(log.gave(300));
    expect(again).toEqual([false, true, false, true]);
  });

  it('does not count the time away as a gap', () => {
    const log = new LineLog();
    for (const atMs of [0, 100]) log.gave(atMs);
    log.begin();
    for (const atMs of [90_000, 90_100, 90_200, 90_300, 90_400]) log.gave(atMs);
    expect(log.view(90_400, null)).toMatchObject({ usualGapMs: 100, jitterMs: 0 });
  });
});
