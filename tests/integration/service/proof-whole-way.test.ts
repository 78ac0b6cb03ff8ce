import { type ChildProcess, spawn } from 'node:child_process';
import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BenchState, SweepResult } from '@taptrue/protocol';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { must, newFolder, until } from './running-service.ts';

/** Twelve programs one after another, each of which starts in some seconds on busy cores. */
const WHOLE_WAY_MS = 240_000;

const LAUNCHER = fileURLToPath(new URL('../../../server/bin/taptrue.js', import.meta.url));

let folder = '';
const children: ChildProcess[] = [];
beforeEach(async () => {
  folder = await newFolder();
});
afterEach(async () => {
  for (const child of children.splice(0)) child.kill('SIGKILL');
  await rm(folder, { recursive: true, force: true });
});

/** A command in a process of its own. */
async function taptrue(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  const child = spawn(process.execPath, [LAUNCHER, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  children.push(child);
  let [out, err] = ['', ''];
  child.stdout.on('data', (chunk) => {
    out += String(chunk);
  });
  child.stderr.on('data', (chunk) => {
    err += String(chunk);
  });
  const code = await new Promise<number>((resolve) =>
    child.once('close', (exitCode) => resolve(exitCode ?? -1)),
  );
  return { code, out, err };
}

async function serve(data: string): Promise<{ port: number; child: ChildProcess }> {
  const args = [LAUNCHER, 'serve', '--keyed', '--name', 'mill', '--port', '0', '--data', data];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'] });
  children.push(child);
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk) => {
      said += String(chunk);
    });
  await until(() => /no interlock/.test(said) || child.exitCode !== null, 'the address', 50_000);
  const port = Number(/http:\/\/localhost:(\d+)\//.exec(said)?.[1]);
  if (!port) throw new Error(said);
  return { port, child };
}

async function stateOf(port: number): Promise<BenchState> {
  return (await (await fetch(`http://127.0.0.1:${port}/api/state`)).json()) as BenchState;
}

async function planned(port: number): Promise<void> {
  await must(port, {
    kind: 'change plan',
    change: {
      angle: { text: '12deg30min', kind: 'angle' },
      tolerance: { kind: 'angle', text: '5min' },
    },
  });
  const { blocks, wear } = (await stateOf(port)).plan.answer!.stack!;
  await must(port, { kind: 'blocks taken', blocks: [...blocks, ...wear] });
  await must(port, { kind: 'use plan' });
}

async function keyed(port: number, readings: readonly string[]): Promise<void> {
  for (const reading of readings) await must(port, { kind: 'take station', keyed: reading });
}

const gone = (child: ChildProcess) =>
  until(() => child.exitCode !== null || child.signalCode !== null, 'its end');

interface Told {
  jobs: {
    job: string;
    sweeps: { sweep: number; recorded: SweepResult; recomputed: SweepResult }[];
    different: number;
    signatures: { holds: boolean; fingerprint: string }[];
  }[];
}

test(
  'the plug is pulled in mid-job; started again, finished, signed, printed, given out, taken in elsewhere, and told again there to the last digit',
  async () => {
    const here = join(folder, 'here');
    const there = join(folder, 'there');
    const first = await serve(here);
    await must(first.port, {
      kind: 'change card',
      change: { jobNumber: 'J-7', part: 'Wedge', operator: 'Ann', readdedBy: 'Bo' },
    });
    await must(first.port, {
      kind: 'change setup',
      change: { rises: 'toward', stationsMm: [0, 31.75, 63.5, 95.25, 127] },
    });
    await planned(first.port);
    await must(first.port, { kind: 'begin sweep' });
    await keyed(first.port, ['0', '0.0004', '0.0011']);
    first.child.kill('SIGKILL');
    await gone(first.child);

    const second = await serve(here);
    expect((await stateOf(second.port)).sweep).toMatchObject({ state: 'being taken', samples: 3 });
    await keyed(second.port, ['0.0014', '0.0020']);
    await must(second.port, { kind: 'park', xMm: 127, keyed: '0.0020' });
    await must(second.port, { kind: 'tap reading', keyed: '0.0001' });
    await must(second.port, { kind: 'leave tap' });
    await must(second.port, { kind: 'set stage', stage: 'tight' });
    await must(second.port, { kind: 'begin sweep' });
    await keyed(second.port, ['0', '0.0001', '0', '0.0001', '0.0001']);
    const state = await stateOf(second.port);
    expect(state.history.sweeps).toHaveLength(2);
    await must(second.port, {
      kind: 'sign record',
      who: 'Ann',
      role: 'set by',
      ticked: state.bench.cautions.map(({ code }) => code),
    });

    // The service goes on; everything else is a program of its own beside it.
    const of = (data: string) => ['--data', data, '--name', 'mill'];
    const sheet = join(folder, 'record.html');
    const printed = await taptrue('record', '--job', '1', '--sheet', sheet, ...of(here));
    expect(printed).toMatchObject({ code: 0, err: '' });
    const page = await readFile(sheet, 'utf8');
    for (const word of ['J-7', 'Ann', '12deg30min', '12° 30′', 'set by', 'does not prove', 'Bo'])
      expect(page).toContain(word);
    expect(page).not.toContain('SIMULATED');

    const out = join(folder, 'out');
    const given = await taptrue('export', '--all', '--out', out, ...of(here));
    expect(given).toMatchObject({ code: 0, err: '' });
    const [name, ...more] = await readdir(out);
    expect(more).toEqual([]);
    const file = join(out, name!);
    const taken = await taptrue('import', file, '--json', ...of(there));
    expect(taken).toMatchObject({ code: 0, err: '' });
    expect(JSON.parse(taken.out)).toMatchObject({ imported: [{ number: 1, outcome: 'taken in' }] });

    const again = join(folder, 'again.taptrue.jsonl');
    expect(await taptrue('export', '--job', '1', '--out', again, ...of(there))).toMatchObject({
      code: 0,
    });
    expect(await readFile(again, 'utf8')).toBe(await readFile(file, 'utf8'));

    const [told, toldThere] = await Promise.all([
      taptrue('replay', file, '--json'),
      taptrue('replay', again, '--json'),
    ]);
    expect([told.code, toldThere.code]).toEqual([0, 0]);
    expect(toldThere.out).toBe(told.out);
    const [job] = (JSON.parse(told.out) as Told).jobs;
    expect(job!.sweeps.map(({ recomputed }) => recomputed)).toEqual(
      state.history.sweeps.map(({ result }) => result),
    );
    expect(job!.sweeps.map(({ recorded }) => recorded)).toEqual(
      job!.sweeps.map(({ recomputed }) => recomputed),
    );

    const paper = /<code>([0-9a-f]{64})<\/code><\/div>/.exec(page)![1]!;
    expect(job!.signatures).toMatchObject([{ holds: true, fingerprint: paper }]);
    for (const data of [here, there]) {
      const verified = await taptrue('verify', '--fingerprint', paper.slice(0, 16), ...of(data));
      expect(verified).toMatchObject({ code: 0, err: '' });
      expect(verified.out).toContain('nothing before it was changed');
      expect(verified.out).toContain('all holds');
    }
    second.child.kill('SIGTERM');
    await gone(second.child);
  },
  WHOLE_WAY_MS,
);

test(
  'a backup is made while the service runs, and brought back where it does not',
  async () => {
    const here = join(folder, 'here');
    const of = ['--data', here, '--name', 'mill'];
    const first = await serve(here);
    await must(first.port, {
      kind: 'change setup',
      change: { rises: 'toward', stationsMm: [0, 127] },
    });
    await must(first.port, { kind: 'begin sweep' });
    await keyed(first.port, ['0', '0.0004']);
    const backup = join(folder, 'backup.sqlite');
    const made = await taptrue('backup', backup, ...of);
    expect(made).toMatchObject({ code: 0, err: '' });
    expect(made.out).toContain('1 jobs, 1 sweeps');
    const twice = await taptrue('backup', backup, ...of);
    expect([twice.code, twice.err]).toEqual([3, expect.stringContaining('there already')]);
    await must(first.port, { kind: 'begin sweep' });
    await keyed(first.port, ['0', '0.0009']);

    const running = await taptrue('restore', backup, ...of);
    expect([running.code, running.err]).toEqual([3, expect.stringContaining('is running on this')]);
    first.child.kill('SIGTERM');
    await gone(first.child);
    const no = join(folder, 'no.sqlite');
    await writeFile(no, 'not a record at all');
    const refused = await taptrue('restore', no, ...of);
    expect([refused.code, refused.err]).toEqual([3, expect.stringContaining('not a whole record')]);

    const restored = await taptrue('restore', backup, ...of);
    expect(restored).toMatchObject({ code: 0, err: '' });
    expect(restored.out).toContain('What was there before is kept at');
    const second = await serve(here);
    expect((await stateOf(second.port)).history.sweeps).toHaveLength(1);
    second.child.kill('SIGTERM');
    await gone(second.child);
    const kept = (await readdir(join(here, 'mill'))).filter((name) => name.includes('.before-'));
    expect(kept.length).toBeGreaterThan(0);
  },
  WHOLE_WAY_MS,
);
