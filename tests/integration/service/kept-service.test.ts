import { type ChildProcess, spawn } from 'node:child_process';
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Command } from '@taptrue/protocol';
import { main } from '@taptrue/server/cli/main.ts';
import { recompute } from '@taptrue/server/records/journal/recompute.ts';
import { STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { command, listening, must, newFolder, Page, recordsIn, until } from './running-service.ts';

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

/** `taptrue serve` in a process of its own. */
async function serve(...options: string[]) {
  const args = [LAUNCHER, 'serve', '--port', '0', '--data', folder, ...options];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'] });
  children.push(child);
  let said = '';
  child.stdout.on('data', (chunk) => {
    said += String(chunk);
  });
  child.stderr.on('data', (chunk) => {
    said += String(chunk);
  });
  await until(() => /no interlock/.test(said) || child.exitCode !== null, 'the address', 50_000);
  const port = Number(/http:\/\/localhost:(\d+)\//.exec(said)?.[1]);
  if (!port) throw new Error(said);
  return { child, port, said: () => said };
}

const gone = (child: ChildProcess) =>
  until(() => child.exitCode !== null || child.signalCode !== null, 'its end');

describe('a service that is started with a mistake in its settings file', () => {
  test('runs with the usual values, and says on the terminal what is wrong', async () => {
    await writeFile(join(folder, 'settings.json'), '{ "prot": 4000 }');
    const { said } = await serve('--keyed');
    await until(() => said().includes('Fault:'), 'the fault');
    expect(said()).toMatch(/Fault: Part of the settings file could not be used.*line 1, prot/);
  });
});

describe('a service that is killed', () => {
  test('has every station that it acknowledged in its record, line by line', async () => {
    const { child, port } = await serve('--keyed', '--name', 'mill');
    await must(port, {
      kind: 'change setup',
      change: { rises: 'toward', stationsMm: Array.from({ length: 25 }, (_, i) => i * 5) },
    });
    await must(port, { kind: 'begin sweep' });
    const acknowledged: number[] = [];
    for (let station = 0; station < 17; station += 1) {
      await must(port, { kind: 'take station', keyed: `0.00${String(station).padStart(2, '0')}` });
      acknowledged.push(station * 0.0001 * 25.4);
    }
    child.kill('SIGKILL');
    await gone(child);
    const [record] = await recordsIn(join(folder, 'mill'));
    const kept = record!.flatMap((entry) => (entry.entry === 'station' ? [entry.readingMm] : []));
    expect(kept).toHaveLength(17);
    for (const [index, mm] of kept.entries()) expect(mm).toBeCloseTo(acknowledged[index]!, 12);
    expect(record![0]).toMatchObject({ entry: 'opened', simulated: false, start: { job: 1 } });
  });

  test('takes the job up where it stood: the sweep that was being taken, those before it, the tap', async () => {
    const first = await serve('--keyed', '--name', 'mill');
    await must(first.port, {
      kind: 'change setup',
      change: { rises: 'toward', stationsMm: [0, 50, 100], backPass: false },
    });
    await must(first.port, { kind: 'change card', change: { jobNumber: 'J-7', operator: 'Ann' } });
    await must(first.port, { kind: 'begin sweep' });
    for (const keyed of ['0', '0.0004', '0.0009'])
      await must(first.port, { kind: 'take station', keyed });
    await must(first.port, { kind: 'park', xMm: 100, keyed: '0.0009' });
    await must(first.port, { kind: 'tap reading', keyed: '0.0004' });
    await must(first.port, { kind: 'set stage', stage: 'snug' });
    await must(first.port, { kind: 'begin sweep' });
    await must(first.port, { kind: 'take station', keyed: '0.0001' });
    const before = new Page(first.port);
    await before.greeted();
    first.child.kill('SIGKILL');
    await gone(first.child);

    const second = await serve('--keyed', '--name', 'mill');
    const after = new Page(second.port);
    await after.greeted();
    for (const section of ['sweep', 'history', 'tap', 'setup', 'card', 'pivot'] as const)
      expect(after.state[section]).toEqual(before.state[section]);
    expect(after.state.bench!.stage).toBe('snug');
    expect(after.state.bench!.job.number).toBe(1);
    expect(after.state.faults!.standing).toMatchObject([{ code: 'job-taken-up' }]);
    for (const keyed of ['0.0002', '0.0003'])
      await must(second.port, { kind: 'take station', keyed });
    await until(() => after.state.history!.sweeps.length === 2, 'the sweep to end');
    after.close();
    before.close();
    second.child.kill('SIGTERM');
    await gone(second.child);
    const records = await recordsIn(join(folder, 'mill'));
    expect(records).toHaveLength(1);
    const times = records[0]!.map(({ atMs }) => atMs);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    const [opened, ...rest] = records[0]!;
    if (opened?.entry !== 'opened') throw new Error('the record has no beginning');
    const again = recompute(opened, rest);
    expect(again.differences).toEqual([]);
    expect(again.sweeps).toHaveLength(2);
  });

  test('comes back with setup, nudges and device, each said to be remembered', async () => {
    const first = await serve('--keyed');
    const config = {
      source: { kind: 'tcp', host: '127.0.0.1', port: 9 },
      shape: 'signed-decimal',
      unit: 'mm',
      channel: null,
    } as const;
    await must(first.port, { kind: 'connect', link: 'indicator', config });
    await must(first.port, { kind: 'begin nudge', nudge: 'y', keyed: '0' });
    await must(first.port, { kind: 'finish nudge', nudge: 'y', movedMm: 0.127, keyed: '-0.005' });
    await must(first.port, { kind: 'change setup', change: { sweptLengthMm: 150 } });
    const remembered = async () =>
      (await readFile(join(folder, 'bench', 'bench.json'), 'utf8').catch(() => '')).includes('150');
    await until(remembered, 'what is remembered');
    first.child.kill('SIGKILL');
    await gone(first.child);

    const second = await serve('--keyed');
    const page = new Page(second.port);
    await page.greeted();
    expect(page.state.setup).toMatchObject({ sweptLengthMm: 150, rises: 'toward' });
    expect(page.state.nudges!.y).toMatchObject({ state: 'done', remembered: true });
    expect(page.state.links!.indicator.config).toEqual(config);
    page.understood();
    page.close();
    second.child.kill('SIGTERM');
    await gone(second.child);
    expect(second.child.exitCode).toBe(0);
    expect(second.said()).toContain('Stopping.');
  });
});

test('Ctrl-C comes twice, from the terminal and passed on by npm: the service still ends in order', async () => {
  const { child, port, said } = await serve('--keyed');
  await must(port, { kind: 'change setup', change: { sweptLengthMm: 163 } });
  child.kill('SIGINT');
  await until(() => said().includes('Stopping.') || child.signalCode !== null, 'the first');
  child.kill('SIGINT');
  await gone(child);
  expect([child.exitCode, child.signalCode]).toEqual([0, null]);
  expect(await readFile(join(folder, 'bench', 'bench.json'), 'utf8')).toContain('163');
});

describe('what a bench remembers', () => {
  test('that cannot be read is a fault, kept aside, and the bench starts afresh', async () => {
    const first = await listening({ dataFolder: folder });
    await first.stop();
    const path = join(folder, 'mill', 'bench.json');
    await writeFile(path, '{"version": 1, "setup":');
    const second = await listening({ dataFolder: folder });
    expect(second.service.store.get('faults').standing).toMatchObject([
      { code: 'memory-not-read' },
    ]);
    await second.stop();
    expect(await readFile(`${path}.unread`, 'utf8')).toBe('{"version": 1, "setup":');
    const third = await listening({ dataFolder: folder });
    expect(third.service.store.get('faults').standing).toEqual([]);
    await third.stop();
  });

  test('of a nudge is forgotten when another device is connected, also after the old one was closed', async () => {
    const at = (port: number) =>
      ({
        kind: 'connect',
        link: 'indicator',
        config: {
          source: { kind: 'tcp', host: '127.0.0.1', port },
          shape: 'signed-decimal',
          unit: 'mm',
          channel: null,
        },
      }) as const;
    const { service, port, stop } = await listening({ dataFolder: folder });
    await must(port, at(9));
    await must(port, { kind: 'begin nudge', nudge: 'y', keyed: '0' });
    await must(port, { kind: 'finish nudge', nudge: 'y', movedMm: 0.127, keyed: '0.005' });
    await must(port, { kind: 'disconnect', link: 'indicator' });
    await must(port, at(9));
    expect(service.store.get('nudges').y.state).toBe('done');
    await must(port, { kind: 'disconnect', link: 'indicator' });
    await must(port, at(10));
    expect(service.store.get('nudges').y.state).toBe('not done');
    expect(service.store.get('setup').rises).toBeNull();
    await stop();
  });
});

test('jobs begun as fast as can be have a record each, and no station falls between two', async () => {
  const { port, stop } = await listening({ dataFolder: folder });
  await must(port, { kind: 'change setup', change: { stationsMm: [0, 127] } });
  for (let job = 0; job < 5; job += 1) {
    await must(port, { kind: 'begin sweep' });
    const both = ['0.0001', '0.0002'].map((keyed) =>
      command(port, { kind: 'take station', keyed }),
    );
    const closing = command(port, { kind: 'new job' });
    await Promise.all([...both, closing, command(port, { kind: 'new job' })]);
    await command(port, { kind: 'abandon sweep' });
  }
  await stop();
  const records = await recordsIn(join(folder, 'mill'));
  expect(records).toHaveLength(11);
  for (const record of records) expect(record[0]!.entry).toBe('opened');
  expect(records.flat().filter((entry) => entry.entry === 'station')).toHaveLength(10);
});

test('nothing is acknowledged once the service is being ended: what was, is in the record', async () => {
  const { service, stop } = await listening({ dataFolder: folder });
  const say = (asked: Command) => service.command(asked, 'bench screen');
  await say({ kind: 'change setup', change: { stationsMm: [0, 63.5, 127] } });
  await say({ kind: 'begin sweep' });
  const before = say({ kind: 'take station', keyed: '0.0001' });
  const closing = service.close();
  const after = say({ kind: 'take station', keyed: '0.0002' });
  expect(await before).toMatchObject({ ok: true });
  expect(await after).toMatchObject({ ok: false, fault: { code: 'service-ends' } });
  await closing;
  expect(await say({ kind: 'end sweep' })).toMatchObject({ fault: { code: 'service-ends' } });
  await stop();
  const entries = (await recordsIn(join(folder, 'mill'))).flat().map(({ entry }) => entry);
  expect(entries.filter((entry) => entry === 'station')).toHaveLength(1);
  expect(entries.at(-1)).toBe('stopped');
});

test('a folder that cannot be written to is a fault that stands; what is measured is held, through a new job too', async () => {
  // A folder lies where the file of records should be: no right of any user can help that.
  await mkdir(join(folder, 'mill', STORE_FILE), { recursive: true });
  const { service, port, stop } = await listening({ dataFolder: folder });
  await must(port, { kind: 'begin sweep' });
  await must(port, { kind: 'take station', keyed: '0.0001' });
  const standing = () => service.store.get('faults').standing.map((fault) => fault.code);
  expect(standing()).toEqual(['record-not-kept']);
  await must(port, { kind: 'clear fault', code: 'record-not-kept' });
  await until(() => standing().includes('record-not-kept'), 'the fault to stand again');
  await must(port, { kind: 'new job' });
  await must(port, { kind: 'begin sweep' });
  await must(port, { kind: 'take station', keyed: '0.0002' });
  await rm(join(folder, 'mill', STORE_FILE), { recursive: true });
  await until(() => standing().length === 0, 'the record to be written');
  await stop();
  const records = await recordsIn(join(folder, 'mill'));
  expect(records).toHaveLength(2);
  for (const record of records)
    expect(record.filter((entry) => entry.entry === 'station')).toHaveLength(1);
});

test('a second service on the same records is refused in a sentence, and the first is not disturbed', async () => {
  const { port, stop } = await listening({ dataFolder: folder });
  const said: string[] = [];
  const terminal = { out: () => undefined, err: (text: string) => void said.push(text) };
  const args = ['serve', '--keyed', '--port', '0', '--name', 'mill', '--data', folder];
  expect(await main(args, terminal)).toBe(3);
  expect(said.join('\n')).toContain('Another Taptrue is running on this folder');
  await must(port, { kind: 'begin sweep' });
  await must(port, { kind: 'take station', keyed: '0.0001' });
  await stop();
  expect((await recordsIn(join(folder, 'mill'))).flat().map(({ entry }) => entry)).toContain(
    'station',
  );
});

test('a port that is taken is told in a sentence, exit 3, and the bench that has it is not disturbed', async () => {
  const taken = createServer();
  await new Promise<void>((resolve) => taken.listen(0, '127.0.0.1', resolve));
  const address = taken.address();
  const port = typeof address === 'object' && address ? address.port : 0;
  const said: string[] = [];
  const terminal = { out: () => undefined, err: (text: string) => void said.push(text) };
  const args = ['serve', '--keyed', '--port', String(port), '--data', folder];
  expect(await main(args, terminal)).toBe(3);
  expect(said.join('\n')).toContain(`Port ${port} is taken`);
  expect(said.join('\n')).not.toMatch(/\n\s+at /);
  taken.close();
});

test.each([
  [['--port', 'x'], '--port takes a whole number'],
  [['--port', '70000'], '--port takes a whole number'],
  [['--port='], '--port takes a whole number'],
  [['--demo', '--keyed'], 'exclude each other'],
  [['--demo', '--indicator', 'COM3'], '--demo has simulated devices'],
  [['--indicator-baud', '9600'], 'needs --indicator PORT'],
  [['--indicator', 'COM3', '--indicator-shape', 'no'], 'there is no line shape'],
  [['--indicator', 'COM3', '--indicator-unit', 'cm'], 'takes mm, in or as-sent'],
  [['--indicator', 'COM3', '--indicator-baud', '1'], 'takes a whole number from 110'],
  [['--indicator', 'tcp://nowhere'], '--indicator:'],
  [['COM3'], 'is not an option of serve'],
  [['--nonsense'], 'nonsense'],
])('serve %j is refused with the reason, and nothing is started', async (args, reason) => {
  const said: string[] = [];
  const terminal = { out: () => undefined, err: (text: string) => void said.push(text) };
  expect(await main(['serve', '--data', folder, ...args], terminal)).toBe(3);
  expect(said.join('\n')).toContain(reason);
});
