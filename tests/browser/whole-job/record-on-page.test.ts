import { readFile } from 'node:fs/promises';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { axeFindings } from '../axe-findings.ts';
import {
  closeBrowser,
  type OpenPage,
  openPage,
  type RunningBench,
  runBench,
} from './running-bench.ts';

/** Two benches each start the thread that prints and takes in, which reads all of the program on busy cores. */
const WHOLE_WAY_MS = 240_000;

let bench: RunningBench;
let other: RunningBench;
const open: OpenPage[] = [];

beforeAll(async () => {
  bench = await runBench();
  other = await runBench({ name: 'other' });
  await bench.command({
    kind: 'change setup',
    change: { rises: 'toward', stationsMm: [0, 31.75, 63.5, 95.25, 127] },
  });
  await bench.command({ kind: 'change card', change: { jobNumber: 'J-7', operator: 'Ann' } });
  await bench.command({ kind: 'set stage', stage: 'tight' });
  await bench.command({ kind: 'begin sweep' });
  for (const keyed of ['0', '0.0001', '0', '0.0001', '0.0001'])
    await bench.command({ kind: 'take station', keyed });
});
afterEach(async () => {
  for (const { page } of open.splice(0)) await page.close();
});
afterAll(async () => {
  await closeBrowser();
  await bench.close();
  await other.close();
});

async function opened(url: string, width = 1280, height = 800): Promise<OpenPage> {
  const one = await openPage(url, width, height);
  open.push(one);
  return one;
}

const keyOf = async ({ url }: RunningBench) => {
  const page = (await (await fetch(`${url}/api/proof/jobs`)).json()) as { jobs: { key: string }[] };
  return page.jobs[0]!.key;
};

test(
  'a job is signed on its page, its record is one page, and its recording is taken in elsewhere',
  async () => {
    const { page, complaints } = await opened(`${bench.url}/#proof/job/${await keyOf(bench)}`);
    await page.getByRole('button', { name: 'Sign this job' }).click();
    const form = page.getByRole('form', { name: 'Sign this job' });
    for (const box of await form.getByRole('checkbox').all()) await box.check();
    expect(await form.getByLabel('Who signs').inputValue()).toBe('Ann');
    await look(page, 'sign-1280');
    expect(await axeFindings(page, 'proof-job-acts')).toEqual([]);
    await form.getByRole('button', { name: 'Sign', exact: true }).click();
    await page.getByText(/Signed\. Fingerprint [0-9a-f]{16}/).waitFor();

    const sheet = page.waitForEvent('popup');
    await page.getByRole('link', { name: 'Record for paper, A4' }).click();
    const paper = await sheet;
    paper.setDefaultTimeout(90_000);
    await paper.getByRole('heading', { level: 1, name: /Record of job 1: J-7/ }).waitFor();
    expect(await paper.getByText('✓').count()).toBeGreaterThan(0);
    await paper.close();

    const saving = page.waitForEvent('download');
    await page.getByRole('link', { name: 'Save the recording' }).click();
    const download = await saving;
    expect(download.suggestedFilename()).toMatch(/^job-1-[\w-]+\.taptrue\.jsonl$/);
    const file = await download.path();
    expect((await readFile(file, 'utf8')).split('\n')[0]).toContain('taptrue recording');

    const elsewhere = await opened(`${other.url}/#proof`);
    await elsewhere.page.locator('record-import input[type=file]').setInputFiles(file);
    await elsewhere.page
      .getByText(/Job 1 of bench “bench” is taken in/)
      .waitFor({ timeout: 90_000 });
    await elsewhere.page.getByRole('link', { name: /J-7/ }).first().waitFor();
    await look(elsewhere.page, 'import-1280');
    expect(complaints).toEqual([]);
  },
  WHOLE_WAY_MS,
);

test.each([
  [1920, 1080],
  [1024, 768],
  [390, 844],
])('nothing of it is cut off or too small to hit at %d × %d', async (width, height) => {
  const { page } = await opened(`${bench.url}/#proof/job/${await keyOf(bench)}`, width, height);
  await page.getByRole('button', { name: 'Sign this job' }).click();
  const boxes = await page
    .locator('proof-job-acts')
    .locator('a.act, button, .tick, input:not([type=checkbox]), select')
    .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON() as DOMRect));
  expect(boxes.length).toBeGreaterThan(6);
  for (const box of boxes) {
    expect(box.height).toBeGreaterThanOrEqual(44);
    expect(box.right).toBeLessThanOrEqual(width);
  }
  await look(page, `sign-${width}`);
});

async function look(page: OpenPage['page'], name: string): Promise<void> {
  const folder = process.env.TAPTRUE_LOOK;
  if (folder) await page.screenshot({ path: `${folder}/${name}.png`, fullPage: true });
}
