import type { Page } from 'playwright-core';

/** The number on the page became `count` of the last digit; `atMs` on the system's monotonic clock. */
export interface DrawnChange {
  count: number;
  atMs: number;
}

/** Tries to read both clocks at once; the one with the shortest way there and back counts. */
const CLOCK_TRIES = 40;

/**
 * Notes every change of the element with class `live-number`. The time is taken in the task after the one that
 * changed it: by then the frame with the new text has been laid out, painted and handed to the compositor.
 * Text, not a function: what a compiler adds to a function is not known in a page.
 */
const WATCH = `(() => {
  window.changes = [];
  const number = document.querySelector('.live-number');
  const channel = new MessageChannel();
  const unpainted = [];
  channel.port1.onmessage = () => {
    window.changes.push([unpainted.shift(), performance.now()]);
  };
  new MutationObserver(() => {
    unpainted.push(number.textContent);
    channel.port2.postMessage(null);
  }).observe(number, { childList: true, characterData: true, subtree: true });
})()`;

const monotonicMs = () => Number(process.hrtime.bigint()) / 1e6;

/** How far the monotonic clock is ahead of the page's, and how surely, ms. */
async function clockAhead(page: Page): Promise<{ aheadMs: number; withinMs: number }> {
  let best = { aheadMs: 0, withinMs: Number.POSITIVE_INFINITY };
  for (let attempt = 0; attempt < CLOCK_TRIES; attempt += 1) {
    const before = monotonicMs();
    const pageMs = await page.evaluate<number>('performance.now()');
    const after = monotonicMs();
    const withinMs = (after - before) / 2;
    if (withinMs < best.withinMs) best = { aheadMs: before + withinMs - pageMs, withinMs };
  }
  return best;
}

/** Watches while `during` runs. The page must show the number already. */
export async function changesWhile<T>(
  page: Page,
  during: () => Promise<T>,
): Promise<{ changes: DrawnChange[]; clockWithinMs: number; result: T }> {
  await page.waitForSelector('.live-number');
  const before = await clockAhead(page);
  await page.evaluate(WATCH);
  const result = await during();
  const seen = await page.evaluate<[string, number][]>('window.changes');
  const after = await clockAhead(page);
  const aheadMs = (before.aheadMs + after.aheadMs) / 2;
  const changes = seen
    .map(([text, pageMs]) => ({
      count: Math.round(Number.parseFloat(text) * 10_000),
      atMs: pageMs + aheadMs,
    }))
    .filter(({ count }) => Number.isFinite(count));
  const driftMs = Math.abs(before.aheadMs - after.aheadMs) / 2;
  return { changes, clockWithinMs: Math.max(before.withinMs, after.withinMs) + driftMs, result };
}
