import { createHash } from 'node:crypto';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import { FOLLOWS } from '@taptrue/server/records/journal/job-replay.ts';
import { expect, test } from 'vitest';
import { AtTheBench } from '../../bench/at-the-bench.ts';

/**
 * SHA-256 of every result of the two jobs below, by the version that gave them. A recording is told again bit
 * for bit by the version that made it, and one that comes out otherwise is called damaged: so whatever changes
 * a last digit anywhere between a reading and a verdict needs another version. Raise PROTOCOL_VERSION and add
 * a line here.
 */
const RESULTS_OF: Readonly<Record<string, string>> = {
  '1.2': 'b3d1a590cc9dd4dc6b94374cd7e38df4d8526f9b0ee918a5f218fef559572878',
  '1.1': '123bb2d5f3e734a56599f809237239aa6af68c64a0b983e1c9b504dfd2d1c66e',
  '1.0': 'ad4102ac76fb576256ae6ee467d44f4631893f1dbeafce28802f5a1a1600477b',
};

/**
 * A hollow bar, its right end farther away, with the scatter of a fine dial; mm. In plain arithmetic: sines come
 * out otherwise in the last digit from one Node to the next.
 */
const heightMm = (xMm: number, slope: number) =>
  slope * xMm + (xMm / 127) * (xMm / 127 - 1) * 0.008 + ((Math.round(xMm * 2) * 37) % 11) * 0.0001;

function keyedJob(): AtTheBench {
  const at = new AtTheBench({ rises: 'toward', stationsMm: [0, 31.75, 63.5, 95.25, 127] });
  at.sweepKeyed(['0', '0.0009', '0.0021', '0.0028', '0.0041']);
  at.must({ kind: 'park', xMm: 127, keyed: '0.0041' });
  at.must({ kind: 'tap reading', keyed: '0.0017' });
  at.must({ kind: 'tap reading', keyed: '0.0003' });
  at.must({ kind: 'leave tap' });
  at.sweepKeyed(['0.0001', '0.0002', '0.0002', '0.0004', '0.0003']);
  at.must({ kind: 'set stage', stage: 'tight' });
  at.sweepKeyed(['0', '0.0001', '0.0000', '0.0002', '0.0001']);
  return at;
}

function streamedJob(): AtTheBench {
  const at = new AtTheBench({ way: 'readout', entry: 'device', rises: 'away', counts: 1 });
  at.connect('indicator');
  at.connect('readout');
  const sweep = (slope: number) => {
    at.must({ kind: 'begin sweep' });
    for (const [from, to] of [
      [0, 127],
      [127, 0],
    ] as const) {
      for (let step = 0; step <= 254; step += 1) {
        const xMm = from + ((to - from) * step) / 254;
        at.nowMs += 10;
        at.reads('indicator', heightMm(xMm, slope));
        if (step % 5 === 0 || step === 254) at.reads('readout', 300 + xMm);
        if (step % 10 === 0) at.bench.tick(at.nowMs);
      }
    }
    at.must({ kind: 'end sweep' });
  };
  at.rests('readout', 300);
  at.must({ kind: 'mark end', end: 'left' });
  at.rests('readout', 427);
  at.must({ kind: 'mark end', end: 'right' });
  sweep(0.0008);
  at.rests('indicator', heightMm(127, 0.0008));
  at.must({ kind: 'park', xMm: 127 });
  at.rests('indicator', heightMm(127, 0.0004), 900);
  at.rests('indicator', heightMm(127, 0.00002), 900);
  at.must({ kind: 'leave tap' });
  sweep(0.00002);
  at.must({ kind: 'set stage', stage: 'tight' });
  sweep(0.00003);
  return at;
}

test('this version gives the results it gave', () => {
  const hash = createHash('sha256');
  const results = [keyedJob(), streamedJob()].flatMap(({ recorded }) =>
    recorded.filter(({ entry }) => FOLLOWS.has(entry)),
  );
  expect(results.filter(({ entry }) => entry === 'sweep ended')).toHaveLength(6);
  expect(results.filter(({ entry }) => entry === 'tap step')).toHaveLength(3);
  for (const result of results) hash.update(`${JSON.stringify(result)}\n`);
  expect(hash.digest('hex')).toBe(RESULTS_OF[PROTOCOL_VERSION]);
});
