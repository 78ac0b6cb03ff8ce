import {
  Access,
  MOST_TABLETS,
  PAIRING_REST_MS,
  PAIRING_TRIES,
} from '@taptrue/server/service/access/access.ts';
import { describe, expect, test } from 'vitest';

const ADDRESSES = ['192.0.2.7'];

function open() {
  let changes = 0;
  const access = new Access(ADDRESSES, [], () => {
    changes += 1;
  });
  const code = () => access.section().pairingCode!;
  const wrong = () => (code() === '000000' ? '000001' : '000000');
  return { access, code, wrong, changes: () => changes };
}

function paired(access: Access, code: string, name = 'tablet', nowMs = 0): string {
  const answer = access.pair(code, name, nowMs);
  if (!answer.ok) throw new Error(answer.fault.what);
  return answer.token;
}

const codeOf = (answer: ReturnType<Access['pair']>) => (answer.ok ? 'paired' : answer.fault.code);

describe('roles', () => {
  test.each([
    ['this machine', true, undefined, 'bench screen'],
    ['this machine with any token', true, 'nonsense', 'bench screen'],
    ['elsewhere without a token', false, undefined, 'watcher'],
    ['elsewhere with a made-up token', false, 'nonsense', 'watcher'],
    ['elsewhere with an empty token', false, '', 'watcher'],
  ] as const)('a caller from %s is a %s', (_from, fromThisMachine, token, role) => {
    expect(open().access.role(fromThisMachine, token)).toBe(role);
  });

  test('a tablet is paired by the code on the bench screen, and stays so by what is remembered', () => {
    const { access, code } = open();
    const token = paired(access, ` ${code()} `, ' at the handwheel ');
    expect(access.role(false, token)).toBe('paired tablet');
    expect(access.tablets).toMatchObject([{ name: 'at the handwheel' }]);
    const restarted = new Access(ADDRESSES, access.tablets, () => undefined);
    expect(restarted.role(false, token)).toBe('paired tablet');
  });

  test('what is remembered and what is shown does not hold the token itself', () => {
    const { access, code } = open();
    const token = paired(access, code());
    expect(JSON.stringify([access.tablets, access.section()])).not.toContain(token);
  });

  test('a tablet that is removed only watches from then on, the others are untouched', () => {
    const { access, code } = open();
    const first = paired(access, code(), 'first');
    const second = paired(access, code(), 'second');
    expect(access.revoke(access.tablets[0]!.id)).toBe(true);
    expect([access.role(false, first), access.role(false, second)]).toEqual([
      'watcher',
      'paired tablet',
    ]);
    expect(access.revoke('no such')).toBe(false);
  });
});

describe('the code', () => {
  test('is six digits, and another one after it paired a tablet', () => {
    const { access, code } = open();
    const before = code();
    expect(before).toMatch(/^\d{6}$/);
    paired(access, before);
    expect(codeOf(access.pair(before, 'again', 0))).toBe(
      before === code() ? 'paired' : 'pairing-code-wrong',
    );
  });

  test('there is none where nobody elsewhere can reach the bench, and nothing pairs', () => {
    const access = new Access([], [], () => undefined);
    expect(access.section().pairingCode).toBeNull();
    access.renewCode();
    expect(access.section().pairingCode).toBeNull();
    expect(codeOf(access.pair('000000', 'x', 0))).toBe('pairing-off');
  });

  test('tries are limited; then pairing rests, even for the right code, and the old code is void', () => {
    const { access, code, wrong } = open();
    const before = code();
    for (let tried = 1; tried <= PAIRING_TRIES; tried += 1) {
      expect(access.section().triesLeft).toBe(PAIRING_TRIES - tried + 1);
      expect(codeOf(access.pair(wrong(), 'guess', 1000))).toBe('pairing-code-wrong');
    }
    const answers = [before, code()].map((one) =>
      codeOf(access.pair(one, 'guess', 1000 + PAIRING_REST_MS - 1)),
    );
    expect(answers).toEqual(['pairing-rests', 'pairing-rests']);
    expect(codeOf(access.pair(code(), 'tablet', 1000 + PAIRING_REST_MS))).toBe('paired');
  });

  test('the rest is told in seconds', () => {
    const { access, wrong } = open();
    for (let tried = 0; tried < PAIRING_TRIES; tried += 1) access.pair(wrong(), 'guess', 0);
    const answer = access.pair(wrong(), 'guess', 1);
    expect(!answer.ok && answer.fault.remedy).toContain('Wait 60 s');
  });

  test.each(['', ' ', '1', '1234567', 'abcdef'])('%j is not the code', (typed) => {
    expect(codeOf(open().access.pair(typed, 'x', 0))).toBe('pairing-code-wrong');
  });

  test('a tablet more than can be kept is refused, and told to remove one', () => {
    const { access, code } = open();
    for (let tablet = 0; tablet < MOST_TABLETS; tablet += 1) paired(access, code());
    expect(codeOf(access.pair(code(), 'one more', 0))).toBe('too-many-tablets');
    access.revoke(access.tablets[3]!.id);
    expect(codeOf(access.pair(code(), 'one more', 0))).toBe('paired');
  });

  test('every change of who may command is told', () => {
    const { access, code, wrong, changes } = open();
    access.pair(wrong(), 'x', 0);
    paired(access, code());
    access.renewCode();
    access.revoke(access.tablets[0]!.id);
    expect(changes()).toBe(4);
  });
});
