import {
  atWrongBaud,
  fromMidLine,
  GOOD_LINK,
  garbled,
  inPieces,
  spoiled,
  withParityBit,
} from '@taptrue/simulators/misbehave.ts';
import { Dice } from '@taptrue/simulators/random.ts';
import { describe, expect, test } from 'vitest';

const FRAME = Buffer.from('+0.0123 in\r\n', 'latin1');
const SEEDS = Array.from({ length: 200 }, (_, seed) => seed);

test('a good link changes nothing', () => {
  for (const seed of SEEDS) expect(spoiled(FRAME, GOOD_LINK, new Dice(seed))).toBe(FRAME);
});

test('garbling changes exactly one byte', () => {
  for (const seed of SEEDS) {
    const other = garbled(FRAME, new Dice(seed));
    expect(other.filter((byte, at) => byte !== FRAME[at]).length).toBe(1);
  }
});

test('an opening in mid line gives a true end of the line, never the whole of it', () => {
  for (const seed of SEEDS) {
    const tail = Buffer.from(fromMidLine(FRAME, new Dice(seed)));
    expect(tail.length).toBeLessThan(FRAME.length);
    expect(tail.length).toBeGreaterThan(0);
    expect(FRAME.subarray(-tail.length).equals(tail)).toBe(true);
  }
});

test('pieces put together are the bytes', () => {
  for (const seed of SEEDS) {
    expect(Buffer.concat(inPieces(FRAME, new Dice(seed))).equals(FRAME)).toBe(true);
  }
});

test('drops come as often as asked: 1 in 4 within five standard errors of 4000', () => {
  const dice = new Dice(5);
  let dropped = 0;
  for (let frame = 0; frame < 4000; frame += 1) {
    if (spoiled(FRAME, { ...GOOD_LINK, drop: 0.25 }, dice) === null) dropped += 1;
  }
  expect(Math.abs(dropped - 1000)).toBeLessThan(5 * Math.sqrt(4000 * 0.25 * 0.75));
});

describe('speed of the line', () => {
  test('the right speed hears every byte value', () => {
    const all = Uint8Array.from({ length: 256 }, (_, byte) => byte);
    expect(Array.from(atWrongBaud(all, 9600, 9600))).toEqual(Array.from(all));
  });

  // An asynchronous receiver samples to the end of the byte, 9.5 bits on: less than half a bit off is
  // 5 % (common practice, no source).
  test('three parts in a hundred off is still heard, a fifth off is not', () => {
    expect(Buffer.from(atWrongBaud(FRAME, 9600, 9890)).equals(FRAME)).toBe(true);
    expect(Buffer.from(atWrongBaud(FRAME, 9600, 11_520)).equals(FRAME)).toBe(false);
  });

  test.each([1200, 4800, 19_200, 115_200])('9600 heard at %i is nothing like the line', (baud) => {
    const heard = Buffer.from(atWrongBaud(FRAME, 9600, baud)).toString('latin1');
    expect(heard.length).toBeGreaterThan(0);
    expect(heard).not.toMatch(/\d\.\d/);
  });
});

test('seven bits and even parity: every byte has an even count of ones, and the low seven are the text', () => {
  const sent = withParityBit(FRAME, 'even');
  for (const byte of sent) expect(byte.toString(2).replaceAll('0', '').length % 2).toBe(0);
  expect(Buffer.from(sent.map((byte) => byte & 0x7f)).equals(FRAME)).toBe(true);
});
