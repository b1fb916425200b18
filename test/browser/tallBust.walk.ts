import { readFile } from 'node:fs/promises';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { dropFile } from './dropFile.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, openPage } from './openPage.ts';
import { overlaps } from './overlaps.ts';
import { openStage } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

/** A search on a bust takes some seconds, more where the processor paints the picture too. */
const SEARCH_PATIENCE_MS = 240_000;

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

test('a bust taller than a man: no table at Parting hangs out of its place, no figure of a suggestion over another', async () => {
  const opened = await openPage(browser, inject('pageUrl'));
  const { page } = opened;
  await page.getByRole('main').waitFor();
  await dropFile(page, 'demosthenes.ply', await readFile('test/fixtures/demosthenes.ply'));
  await page.locator('scute-title-block').getByText('demosthenes.ply').waitFor();
  await waitForAnswer(page);
  await openStage(page, 'Parting');
  await page.getByRole('button', { name: 'Suggest', exact: true }).click();
  await page.getByRole('button', { name: 'Take suggestion 1' }).waitFor({ timeout: SEARCH_PATIENCE_MS });
  for (const width of [1440, 1024, 820]) {
    await page.setViewportSize({ width, height: 900 });
    await page.waitForTimeout(300);
    const cut = await page
      .locator('scute-table .box')
      .evaluateAll((boxes) =>
        boxes
          .filter((box) => box.scrollWidth > box.clientWidth)
          .map((box) => box.querySelector('caption')?.textContent?.trim() ?? 'a table'),
      );
    expect(cut, `cut at ${width}`).toEqual([]);
    const figures = await page.locator('scute-suggestions .figures dd').evaluateAll((amounts) =>
      amounts.map((amount) => {
        const range = document.createRange();
        range.selectNodeContents(amount);
        const { left, top, right, bottom } = range.getBoundingClientRect();
        return { name: amount.textContent?.trim() ?? '', left, top, right, bottom };
      }),
    );
    expect(figures.length).toBeGreaterThanOrEqual(6);
    const over = figures.flatMap((a, i) =>
      figures.slice(i + 1).flatMap((b) => (overlaps(a, b) ? [`${a.name} over ${b.name}`] : [])),
    );
    expect(over, `at ${width}`).toEqual([]);
  }
  expectQuiet(opened);
  await opened.close();
}, 400_000);
