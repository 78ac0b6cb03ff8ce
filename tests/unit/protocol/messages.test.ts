import {
  Command,
  checkerOf,
  faultLine,
  firstSetup,
  Painted,
  PROTOCOL_VERSION,
  Setup,
  speaksOurVersion,
} from '@taptrue/protocol';
import { describe, expect, test } from 'vitest';

const commands = checkerOf(Command);
const painted = checkerOf(Painted);

describe('the checker', () => {
  test('takes a message as it is, from text and as a value', () => {
    const message = { type: 'painted', sequence: 3, visible: true } as const;
    expect(painted.check(message)).toEqual({ ok: true, value: message });
    expect(painted.parse(JSON.stringify(message))).toEqual({ ok: true, value: message });
  });

  test('says of text that is not JSON that it is not', () => {
    for (const text of ['', '{', 'painted', '{"type":']) {
      expect(painted.parse(text)).toEqual({ ok: false, why: 'not JSON' });
    }
  });

  test.each([
    ['a wrong kind of value', { type: 'painted', sequence: '3', visible: true }, '/sequence'],
    ['a value out of range', { type: 'painted', sequence: -1, visible: true }, '/sequence'],
    ['something left out', { type: 'painted', sequence: 1 }, 'the message'],
    [
      'something added',
      { type: 'painted', sequence: 1, visible: true, more: 1 },
      '/more is not known here',
    ],
    ['nothing at all', null, 'the message'],
  ])('names the place of %s', (_case, value, place) => {
    const checked = painted.check(value);
    expect(checked.ok).toBe(false);
    if (!checked.ok) expect(checked.why.startsWith(place)).toBe(true);
  });

  test.each<[unknown, string]>([
    [{ kind: 'move the table' }, '/kind "move the table" is not known here'],
    [{}, 'the message says no kind'],
    [{ kind: 'begin sweep', now: true }, '/now is not known here'],
    [{ kind: 'take station', keyed: '' }, '/keyed '],
    [{ kind: 'take station', keyed: '1'.repeat(41) }, '/keyed '],
    [{ kind: 'park', xMm: '12' }, '/xMm must be number'],
    [{ kind: 'park', xMm: Number.NaN }, '/xMm '],
    [{ kind: 'park', xMm: Number.POSITIVE_INFINITY }, '/xMm '],
    [{ kind: 'change setup' }, 'the message must have change'],
    [{ kind: 'change setup', change: { displayUnit: 'ft' } }, '/change/displayUnit must be one of'],
    [{ kind: 'change setup', change: { stationsMm: [1] } }, '/change/stationsMm '],
    [
      { kind: 'change setup', change: { stationsMm: Array.from({ length: 26 }, (_, i) => i) } },
      '/change/stationsMm ',
    ],
    [{ kind: 'change setup', change: { sweptLengthMm: 0 } }, '/change/sweptLengthMm '],
    [
      { kind: 'change setup', change: { limit: { kind: 'end to end', mm: 0, overMm: null } } },
      '/change/limit/mm must be >= 1e-8',
    ],
    [
      { kind: 'change setup', change: { limit: { kind: 'end to end', mm: 1, overMm: 0 } } },
      '/change/limit/overMm must be >= 1e-8',
    ],
    [
      { kind: 'change setup', change: { limit: { kind: 'by eye' } } },
      '/change/limit/kind "by eye" is not known here',
    ],
    [{ kind: 'set stage', stage: 'very tight' }, '/stage must be one of "free", '],
    [{ kind: 'demo', do: { act: 'fly' } }, '/do/act "fly" is not known here'],
    [[], 'the message must be object'],
    ['begin sweep', 'the message must be object'],
    [null, 'the message must be object'],
  ])('refuses %j as a command, and says where and why: %s', (value, why) => {
    const checked = commands.check(value);
    expect(checked.ok).toBe(false);
    if (!checked.ok) expect(checked.why.startsWith(why), checked.why).toBe(true);
  });

  test('a change to a part of the setup that there is not is refused, not merged into it', () => {
    expect(commands.check({ kind: 'change setup', change: { unknown: 1 } })).toEqual({
      ok: false,
      why: '/change/unknown is not known here',
    });
  });

  test('takes the setup that a bench begins with', () => {
    expect(checkerOf(Setup).check(firstSetup()).ok).toBe(true);
  });
});

describe('the version rule', () => {
  const [first, second] = PROTOCOL_VERSION.split('.').map(Number) as [number, number];
  test.each([
    [PROTOCOL_VERSION, true],
    [`${first}.${second + 7}`, true],
    [`${first}`, true],
    [`${first + 1}.${second}`, false],
    [`${first}${first}.0`, false],
    ['', false],
    ['next', false],
  ])('a peer that says %j is understood: %s', (version, isUnderstood) => {
    expect(speaksOurVersion(version)).toBe(isUnderstood);
  });
});

test('a fault is one line: what happened, what was got, what to do; nothing got is not spoken of', () => {
  const fault = {
    code: 'port-gone' as const,
    what: 'It fell.',
    got: '3 mm',
    remedy: 'Pick it up.',
  };
  expect(faultLine(fault)).toBe('It fell. Got: 3 mm. Pick it up.');
  expect(faultLine({ ...fault, got: '' })).toBe('It fell. Pick it up.');
});
