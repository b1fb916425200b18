import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { killTab, MISSING_MS } from './killTab.ts';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';

const KILLINGS = 100;
/** From the first edit to the killing at most, ms: with what was kept meanwhile, and without. */
const MOST_MS = 3500;

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

test(`the tab is killed at a hundred random moments of editing (seeds 1 to ${KILLINGS}): at most the last two seconds are missing`, async () => {
  const url = inject('pageUrl');
  const opened = await openDome(browser, url);
  const missing: number[] = [];
  let edits = 0;
  let { page } = opened;
  for (let seed = 1; seed <= KILLINGS; seed++) {
    const killing = await killTab(opened, page, url, seed, MOST_MS);
    ({ page } = killing);
    missing.push(killing.missingMs);
    edits += killing.edits;
    expect(killing.missingMs, `seed ${seed}`).toBeLessThan(MISSING_MS);
  }
  // Not by standing still: there was something to lose each time, and some of it was.
  expect(edits).toBeGreaterThan(2 * KILLINGS);
  expect(Math.max(...missing)).toBeGreaterThan(0);
  const sorted = missing.sort((a, b) => a - b);
  console.log(`${edits} edits; missing: median ${sorted[KILLINGS / 2]} ms, most ${sorted[KILLINGS - 1]} ms`);
  await opened.close();
}, 1_800_000);
