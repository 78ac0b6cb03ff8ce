import { proofSheet } from '@taptrue/server/records/sheet/proof-sheet.ts';
import { sheetFacts } from '@taptrue/server/records/sheet/sheet-facts.ts';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { AtTheBench } from '../../unit/bench/at-the-bench.ts';
import { linesOf } from '../../unit/records/archive/lines-of.ts';
import { launchChromium } from '../find-chromium.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());

/** All four stages swept and seven set-ups: more than a page has room to show. */
function fullJob(): AtTheBench {
  const at = new AtTheBench({ rises: 'toward', limit: { kind: 'angle', rad: 0.001 } });
  for (const stage of ['free', 'nipped', 'snug', 'tight'] as const) {
    at.must({ kind: 'set stage', stage });
    at.sweepKeyed(['0', '0.0001', '0.0001', '0.0002', '0.0002']);
  }
  const asks = [
    ['bed', 'foot-spacing', '8in'],
    ['between-centres', 'from-headstock', '18in'],
    ['edge', 'limit', '0.0001in'],
    ['part-on-plate', 'set-angle', '7deg30min'],
    ['rail', 'limit', '0.0001in'],
    ['square', 'foot-spacing', '8in'],
    ['small-slope', 'target-slope', '0.001'],
  ] as const;
  for (const [name, ask, text] of asks) {
    at.must({ kind: 'choose set-up', name });
    at.must({ kind: 'tell set-up', ask, text });
    for (let x = 0; x < 5; x += 1) {
      const keyed = (0.0012 * x).toFixed(4);
      at.must({ kind: 'take set-up reading', at: String(x), keyed, sure: true });
    }
    at.must({ kind: 'keep set-up' });
  }
  return at;
}

it.each(['a4', 'letter'] as const)(
  '%s: a record with seven set-ups prints on one page',
  async (paper) => {
    const facts = sheetFacts(linesOf(fullJob().recorded))!;
    const page = await browser.newPage();
    const html = proofSheet(facts, { paper, printedText: 'printed 2026-11-25' });
    expect(html).toContain('2 more in the record.');
    await page.setContent(html);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    await page.close();
    // Page objects of a PDF (ISO 32000-1, 7.7.3.3).
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page(?![a-z])/g)).toHaveLength(1);
  },
);
