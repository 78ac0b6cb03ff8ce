import { mkdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  type Command,
  firstQuestion,
  type PlanQuestion,
  type RecordEntry,
  type SetupChange,
} from '@taptrue/protocol';
import { main } from '@taptrue/server/cli/main.ts';
import { makePlan } from '@taptrue/server/plan/make-plan.ts';
import { STANDARD_SETS } from '@taptrue/server/plan/sets/standard-sets.ts';
import { proofSheet } from '@taptrue/server/records/sheet/proof-sheet.ts';
import { sheetFacts } from '@taptrue/server/records/sheet/sheet-facts.ts';
import { openStore, STORE_FILE } from '@taptrue/server/records/store/open-store.ts';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { AtTheBench } from '../../unit/bench/at-the-bench.ts';
import { linesOf } from '../../unit/records/archive/lines-of.ts';
import { keepIn, newFolder } from '../../unit/records/exchange/a-job.ts';
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

const LONG = 'Words without an end '.repeat(6).slice(0, 120);

function planEntry(change: Partial<PlanQuestion>, atMs: number): RecordEntry {
  const question: PlanQuestion = {
    ...firstQuestion(),
    job: 'Wedge plate',
    referenceLine: 'the long ground edge',
    tolerance: { kind: 'angle', text: '5min' },
    ...change,
  };
  const planned = makePlan(question, STANDARD_SETS);
  if (!planned.ok) throw new Error(planned.fault.what);
  const { answer } = planned;
  return {
    entry: 'plan used',
    atMs,
    question,
    answer,
    taken: answer.stack ? [...answer.stack.blocks, ...answer.stack.wear] : [],
    takenLow: answer.lowRollStack ? answer.lowRollStack.blocks : [],
  };
}

const STAGED = [
  ['nipped', ['0', '0.0006', '0.0010', '0.0014', '0.0021']],
  ['nipped', ['0', '0.0001', '0', '0.0001', '0.0001']],
  ['snug', ['0', '0', '-0.0001', '0.0001', '0']],
  ['tight', ['0', '0.0001', '0.0001', '0.0002', '0.0002']],
] as const;

function job(
  options: {
    plan?: Partial<PlanQuestion>;
    setup?: SetupChange;
    words?: string;
    signed?: number;
    simulated?: boolean;
    /** What is done after the last signature. */
    after?: readonly Command[];
    stages?: readonly (readonly [string, readonly string[]])[];
  } = {},
): RecordEntry[] {
  const at = new AtTheBench({ rises: 'toward', ...options.setup });
  const words = options.words ?? '';
  at.must({
    kind: 'change card',
    change: {
      jobNumber: words || 'J-7',
      part: words || 'Wedge plate, second operation',
      machine: words || 'Mill 3, six-inch vise',
      operator: words || 'A. Hand',
      indicator: words || 'lever type, no. 12',
      indicatorChecked: words || '2026-11-02 against a 1 mm block',
      readdedBy: words || 'B. Other',
    },
  });
  if (options.plan) at.recorded.push(planEntry(options.plan, at.nowMs));
  for (const [stage, readings] of options.stages ?? STAGED) {
    if (at.bench.stage !== stage) at.must({ kind: 'set stage', stage: stage as 'tight' });
    at.sweepKeyed(readings);
  }
  if (options.simulated) {
    const [opened] = at.recorded;
    if (opened?.entry === 'opened') at.recorded[0] = { ...opened, simulated: true };
  }
  const signers = ['A. Hand', 'B. Other', 'C. Third'].slice(0, options.signed ?? 0);
  for (const [index, who] of signers.entries()) {
    const role = (['set by', 'checked by', 'instructor'] as const)[index]!;
    at.recorded.push({ entry: 'signing', atMs: at.nowMs, who, role });
    const facts = sheetFacts(linesOf(at.recorded))!;
    at.recorded.push({
      entry: 'signed',
      atMs: at.nowMs,
      who,
      role,
      wallClock: '2026-11-25T09:30:00.000Z',
      lines: facts.fingerprint.lines,
      fingerprint: facts.fingerprint.sha256,
      cautions: at.state.bench.cautions.map((caution) => ({ ...caution, ticked: true })),
    });
  }
  for (const command of options.after ?? []) at.must(command);
  return at.recorded;
}

const plain = { angle: { text: '12deg30min', kind: 'angle' } } as const;

const longest = (after: readonly Command[] = []) =>
  job({
    plan: {
      angle: { text: '60deg', kind: 'angle' },
      decisions: { steep: 'complement', shallow: null, nearest: null },
      referenceLine: LONG,
      wear: '0.050',
    },
    words: LONG,
    signed: 3,
    after,
    simulated: true,
    setup: { backPass: true, decisionRule: 'plain' },
    stages: (['free', 'nipped', 'snug', 'tight'] as const).map((stage) => [
      stage,
      [
        '0',
        '0.0004',
        '0.0021',
        '0.0007',
        '0.0009',
        '0.0010',
        '0.0009',
        '0.0004',
        '0.0003',
        '0.0006',
      ],
    ]),
  });

const JOBS: [string, () => RecordEntry[]][] = [
  ['every stage, planned and signed', () => job({ plan: plain, signed: 1 })],
  ['without a plan, not signed', () => job()],
  [
    'one sweep, in millimetres, along Y',
    () =>
      job({
        setup: { displayUnit: 'mm', axis: 'y', keyedAs: { kind: 'length', unit: 'mm' } },
        stages: [['nipped', ['0', '0.02', '0.04', '0.07', '0.09']]],
      }),
  ],
  ['the longest words there can be, out and back, signed three times, simulated', () => longest()],
  [
    'the longest, signed three times, and all but the vise changed after it',
    () =>
      longest([
        { kind: 'change card', change: { part: LONG.replaceAll('W', 'V') } },
        { kind: 'change setup', change: { limit: { kind: 'angle', rad: 0.0001 } } },
        { kind: 'skip nudge', nudge: 'y' },
      ]),
  ],
  [
    'nothing that stands any more: the longest, signed three times, and all changed after it',
    () =>
      longest([
        { kind: 'change card', change: { part: LONG.replaceAll('W', 'V') } },
        { kind: 'park', xMm: 127, keyed: '0.0004' },
        { kind: 'tap reading', keyed: '0.0024' },
        { kind: 'leave tap' },
        { kind: 'change setup', change: { limit: { kind: 'angle', rad: 0.0001 } } },
        { kind: 'set stage', stage: 'free' },
        { kind: 'skip nudge', nudge: 'y' },
      ]),
  ],
];

describe('the record of a job prints on one page', () => {
  for (const paper of ['a4', 'letter'] as const) {
    it.each(JOBS)(`${paper}: %s`, async (name, made) => {
      const facts = sheetFacts(linesOf(made()));
      const html = proofSheet(facts!, { paper, printedText: 'printed 2026-11-25' });
      const page = await browser.newPage({ viewport: { width: 794, height: 1123 } });
      await page.setContent(html);
      const pdf = await page.pdf({ preferCSSPageSize: true });
      const look = process.env.TAPTRUE_LOOK;
      if (look) {
        await page.emulateMedia({ media: 'print' });
        await page.screenshot({
          path: `${look}/${paper}-${name.slice(0, 12)}.png`,
          fullPage: true,
        });
      }
      // Nothing is cut off at the side either.
      const overflow = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      await page.close();
      expect(overflow).toBeLessThanOrEqual(0);
      expect(pagesOf(pdf)).toBe(1);
    });
  }
});

describe('the page says', () => {
  const pageOf = (entries: RecordEntry[], isReplay = false) =>
    proofSheet(sheetFacts(linesOf(entries))!, { paper: 'a4', printedText: 'today', isReplay });

  it('SIMULATED and REPLAY across it, where they apply and nowhere else', () => {
    expect(pageOf(job())).not.toMatch(/SIMULATED|REPLAY/);
    expect(pageOf(job({ simulated: true }))).toContain('>SIMULATED<');
    expect(pageOf(job(), true)).toContain('>REPLAY<');
    expect(pageOf(job({ simulated: true }), true)).toContain('>REPLAY SIMULATED<');
  });

  it('the fingerprint of a signature, and what was ticked', () => {
    const signed = job({ plan: plain, signed: 1 });
    const page = pageOf(signed);
    const entry = signed.find((one) => one.entry === 'signed');
    expect(page).toContain(entry?.entry === 'signed' ? entry.fingerprint : 'none');
    expect(page).toContain('✓');
    expect(page).not.toContain('signed, ');
    expect(page).not.toContain('do not trust it');
  });

  it('that a signature does not fit, where a line before it was changed', () => {
    const signed = job({ signed: 1 }).map((entry) =>
      entry.entry === 'command' && entry.command.kind === 'change card'
        ? {
            ...entry,
            command: { ...entry.command, change: { ...entry.command.change, operator: 'Eve' } },
          }
        : entry,
    );
    expect(pageOf(signed)).toContain('do not trust it');
  });
});

it('from the command line too, as a PDF file', async () => {
  const folder = newFolder();
  mkdirSync(join(folder, 'mill'));
  const db = openStore(join(folder, 'mill', STORE_FILE));
  keepIn(db, 'job-1', job({ plan: plain, signed: 1 }));
  db.close();
  const file = join(folder, 'record.pdf');
  const before = process.env.TAPTRUE_CHROMIUM;
  process.env.TAPTRUE_CHROMIUM = (await findChromium()).executablePath;
  const said: string[] = [];
  try {
    const terminal = {
      out: (text: string) => said.push(text),
      err: (text: string) => said.push(text),
    };
    const of = ['--data', folder, '--name', 'mill'];
    expect(await main(['record', '--job', '1', '--sheet', file, ...of], terminal)).toBe(0);
    expect(said.join('\n')).toContain('The jaw stands at 12° 29′ 5');
    const pdf = await readFile(file);
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    expect(pagesOf(pdf)).toBe(1);
  } finally {
    if (before === undefined) delete process.env.TAPTRUE_CHROMIUM;
    else process.env.TAPTRUE_CHROMIUM = before;
  }
});
