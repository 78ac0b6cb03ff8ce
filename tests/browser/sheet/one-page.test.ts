import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { firstQuestion, type PlanQuestion } from '@taptrue/protocol';
import { main } from '@taptrue/server/cli/main.ts';
import { makePlan } from '@taptrue/server/plan/make-plan.ts';
import { STANDARD_SETS } from '@taptrue/server/plan/sets/standard-sets.ts';
import { setupSheet } from '@taptrue/server/plan/sheet/setup-sheet.ts';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findChromium, launchChromium } from '../find-chromium.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());

/** Page objects of a PDF (ISO 32000-1, 7.7.3.3: /Type /Page; the tree's nodes are /Pages). */
function pagesOf(pdf: Buffer): number {
  return pdf.toString('latin1').match(/\/Type\s*\/Page(?![a-z])/g)?.length ?? 0;
}

const question = (change: Partial<PlanQuestion>): PlanQuestion => ({
  ...firstQuestion(),
  job: 'Wedge plate, second operation',
  referenceLine: 'the long ground edge',
  tolerance: { kind: 'angle', text: '5min' },
  ...change,
});

const PLANS: [string, PlanQuestion][] = [
  ['a plain job', question({ angle: { text: '7deg30min', kind: 'angle' } })],
  [
    'the other hand, solid jaw at the front, wear pair',
    question({
      angle: { text: '22deg30min', kind: 'angle' },
      hand: 'left-away',
      jaw: { solid: 'front', width: '6in' },
      wear: '0.050',
    }),
  ],
  [
    'the complement, swept along Y',
    question({
      angle: { text: '60deg', kind: 'angle' },
      decisions: { steep: 'complement', shallow: null, nearest: null },
    }),
  ],
  [
    'blocks under both rolls',
    question({
      angle: { text: '30min', kind: 'angle' },
      decisions: { steep: null, shallow: 'both rolls', nearest: null },
    }),
  ],
  [
    'every caution there is: narrow jaw, metric bar, set from memory, no reference line',
    question({
      job: 'A job with a name so long that it runs over the line '.repeat(2).slice(0, 110),
      referenceLine: '',
      angle: { text: '33deg17min', kind: 'angle' },
      bar: { length: '200mm', lengthIs: 'nominal', lengthUncertainty: null, rollDiameter: null },
      jaw: { solid: 'rear', width: '4in' },
      setId: 'inch-36',
    }),
  ],
];

describe('the setup sheet prints on one page', () => {
  for (const paper of ['a4', 'letter'] as const) {
    it.each(PLANS)(`${paper}: %s`, async (_name, asked) => {
      const planned = makePlan(asked, STANDARD_SETS);
      if (!planned.ok) throw new Error(planned.fault.what);
      const page = await browser.newPage();
      await page.setContent(setupSheet(asked, planned.answer, paper, '2026-11-25'));
      const pdf = await page.pdf({ preferCSSPageSize: true });
      await page.close();
      expect(pagesOf(pdf)).toBe(1);
    });
  }

  it('from the command line too, as a PDF file', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'taptrue-sheet-'));
    const file = join(folder, 'sheet.pdf');
    const before = process.env.TAPTRUE_CHROMIUM;
    const found = await findChromium();
    process.env.TAPTRUE_CHROMIUM = found.executablePath;
    const said: string[] = [];
    try {
      const exitCode = await main(
        [
          'plan',
          '--angle',
          '12deg30min',
          '--bar',
          '5in',
          '--set',
          'inch-81',
          '--tolerance',
          '5min',
          '--sheet',
          file,
        ],
        { out: (text) => said.push(text), err: (text) => said.push(text) },
      );
      expect(said.join('\n')).toContain('sheet.pdf');
      expect(exitCode).toBe(0);
      const pdf = await readFile(file);
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
      expect(pagesOf(pdf)).toBe(1);
    } finally {
      if (before === undefined) delete process.env.TAPTRUE_CHROMIUM;
      else process.env.TAPTRUE_CHROMIUM = before;
      await rm(folder, { recursive: true, force: true });
    }
  });
});
