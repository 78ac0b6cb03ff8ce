import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { ImportAnswer, JobRow } from '@taptrue/protocol';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { command, listening, must, recordsIn } from './running-service.ts';

type Running = Awaited<ReturnType<typeof listening>>;
let here: Running;
let there: Running;
let key = '';

beforeAll(async () => {
  here = await listening();
  there = await listening();
  await must(here.port, {
    kind: 'change setup',
    change: { rises: 'toward', stationsMm: [0, 63.5, 127] },
  });
  await must(here.port, {
    kind: 'change card',
    change: { jobNumber: '=cmd|"x"', operator: '<b>Ann</b>' },
  });
  for (const readings of [
    ['0', '0.0009', '0.0021'],
    ['0', '0.0001', '0.0001'],
  ]) {
    await must(here.port, { kind: 'begin sweep' });
    for (const keyed of readings) await must(here.port, { kind: 'take station', keyed });
  }
  const page = (await (await got(here, '/proof/jobs')).json()) as { jobs: JobRow[] };
  key = page.jobs[0]!.key;
});
afterAll(() => Promise.all([here.clear(), there.clear()]));

const got = ({ port }: Running, path: string) => fetch(`http://127.0.0.1:${port}/api${path}`);

const sent = ({ port }: Running, body: string | Uint8Array<ArrayBuffer>) =>
  fetch(`http://127.0.0.1:${port}/api/records/import`, {
    method: 'POST',
    headers: { 'content-type': 'application/x-ndjson' },
    body,
  });

async function importedBy(running: Running, body: string | Uint8Array<ArrayBuffer>) {
  const response = await sent(running, body);
  expect(response.status).toBe(200);
  return ((await response.json()) as ImportAnswer).imported;
}

describe('through the page', () => {
  test('a job is given out as it stands, taken in elsewhere, and given out from there the same', async () => {
    const response = await got(here, `/records/${key}/recording`);
    expect(response.headers.get('content-disposition')).toContain(`job-1-${key}.taptrue.jsonl`);
    const text = await response.text();
    expect(await importedBy(there, text)).toMatchObject([{ job: key, outcome: 'taken in' }]);
    expect(await (await got(there, `/records/${key}/recording`)).text()).toBe(text);
    expect(await importedBy(there, text)).toMatchObject([{ outcome: 'here already' }]);
    const page = (await (await got(there, '/proof/jobs')).json()) as { jobs: JobRow[] };
    expect(page.jobs.find((job) => job.key === key)).toMatchObject({
      origin: 'a recording',
      running: false,
      sweeps: 2,
    });
  });

  test('one sweep is given out with what led to it, and as a table without a formula in it', async () => {
    const one = await (await got(here, `/records/${key}/recording?sweep=1`)).text();
    expect(one.match(/"entry":"sweep ended"/g)).toHaveLength(1);
    const table = await (await got(here, `/records/${key}/points?sweep=1`)).text();
    expect(table.split('\r\n')).toHaveLength(5);
    expect(table).not.toMatch(/(^|,)[=@]/m);
    expect(table).not.toContain('cmd');
  });

  test('the record is one page; what a person typed is text in it, never a tag', async () => {
    const page = await (await got(here, `/records/${key}/sheet?paper=letter`)).text();
    expect(page).toContain('size:letter');
    expect(page).toContain('&lt;b&gt;Ann&lt;/b&gt;');
    expect(page).not.toContain('<b>Ann');
  });

  test('printed out of a replay it has REPLAY across it, and only then', async () => {
    const sheet = async (query: string) =>
      (await got(here, `/records/${key}/sheet?paper=a4${query}`)).text();
    expect(await sheet('&replay=1')).toMatch(/class="across"[^>]*>REPLAY/);
    expect(await sheet('')).not.toContain('REPLAY');
  });

  test.each([
    ['/records/none/recording', 404],
    ['/records/..%2F..%2Fetc%2Fpasswd/recording', 404],
    ['/records/none/sheet', 404],
    ['/records/none/points?sweep=1', 404],
  ])('%s is refused', async (path, status) => {
    expect((await got(here, path)).status).toBe(status);
  });

  test('a sweep that is not there is refused before a byte of it is sent', async () => {
    for (const what of ['recording', 'points'])
      expect((await got(here, `/records/${key}/${what}?sweep=9`)).status).toBe(404);
  });

  test('what is no recording is refused with its line, and nothing of it stays on the disk', async () => {
    const text = await (await got(here, `/records/${key}/recording`)).text();
    const [refused] = await importedBy(there, text.replace('"atMs"', '"atMs" '));
    expect(refused).toMatchObject({ outcome: 'refused', line: 2 });
    expect(await importedBy(there, Buffer.alloc(3_000_000, 0x20))).toMatchObject([
      { outcome: 'refused', fault: { code: 'recording-line-too-long' } },
    ]);
    const files = await readdir(join(there.dataFolder, 'mill'));
    expect(files.filter((file) => file.includes('incoming'))).toEqual([]);
  });

  test('only one is taken in at a time', async () => {
    const text = await (await got(here, `/records/${key}/recording`)).text();
    const answers = await Promise.all([sent(there, text), sent(there, text), sent(there, text)]);
    const codes = answers.map(({ status }) => status).sort();
    expect(codes[0]).toBe(200);
    expect(codes.every((status) => status === 200 || status === 400)).toBe(true);
  });
});

describe('signing', () => {
  const sign = (who: string) =>
    command(here.port, { kind: 'sign record', who, role: 'set by', ticked: [] });

  test('wants a name, and a sweep that still holds', async () => {
    expect(await sign('  ')).toMatchObject({ fault: { code: 'signature-no-name' } });
    await must(here.port, { kind: 'set stage', stage: 'tight' });
    expect(await sign('Ann')).toMatchObject({ fault: { code: 'nothing-to-sign' } });
    await must(here.port, { kind: 'begin sweep' });
    expect(await sign('Ann')).toMatchObject({ fault: { code: 'nothing-to-sign' } });
    for (const keyed of ['0', '0.0001', '0.0001'])
      await must(here.port, { kind: 'take station', keyed });
  });

  test('keeps the fingerprint of the lines before it, also where two sign at once', async () => {
    const answers = await Promise.all([sign('Ann'), sign('Bo')]);
    const done = answers.filter(({ ok }) => ok);
    expect(done.length).toBeGreaterThan(0);
    for (const answer of answers) if (!answer.ok) expect(answer.fault.code).toBe('being-signed');
    const [entries] = await recordsIn(join(here.dataFolder, 'mill'));
    expect(entries!.filter(({ entry }) => entry === 'signed')).toHaveLength(done.length);
    const text = await (await got(here, `/records/${key}/recording`)).text();
    // Checked in full by whoever takes it in: the fingerprint fits, or it is refused.
    const [taken] = await importedBy(there, text);
    expect(taken).toMatchObject({ outcome: 'gone on with', fault: null });
    const broken = text.replace(
      /"who":"(Ann|Bo)","role":"set by",/,
      '"who":"Eve","role":"set by",',
    );
    expect(await importedBy(there, broken)).toMatchObject([{ outcome: 'refused' }]);
  });
});
