import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, type OpenedPage } from './openPage.ts';
import { openStage } from './readFigures.ts';

const TEST_MS = 200_000;

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openDome(browser, inject('pageUrl'), {
    permissions: ['clipboard-read', 'clipboard-write'],
  });
});
afterEach(() => expectQuiet(opened));
afterAll(() => browser?.close());

const CAPTION = /^Volume and mass of each coat/;

async function readNames(page: Page): Promise<string[]> {
  const table = page.getByRole('table', { name: CAPTION });
  return (await table.locator('tbody').getByRole('rowheader').allInnerTexts()).map((name) => name.trim());
}

test(
  'a column sorts up, down and back to the work by keys; the copy is what is shown, heads, units and bounds with it',
  async () => {
    const { page } = opened;
    await openStage(page, 'Coats');
    const table = page.getByRole('table', { name: CAPTION });
    const head = table.getByRole('columnheader', { name: 'Volume' });
    const asPlanned = await readNames(page);
    expect(asPlanned.length).toBeGreaterThan(3);
    expect(await head.getAttribute('aria-sort')).toBe('none');

    const readMl = async (): Promise<number[]> =>
      (await table.locator('tbody tr td:nth-child(2)').allInnerTexts()).map((text) =>
        Number.parseFloat(text),
      );
    await head.getByRole('button').focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => head.getAttribute('aria-sort')).toBe('ascending');
    const up = await readMl();
    expect(up).toEqual(up.toSorted((a, b) => a - b));
    expect(await readNames(page)).not.toEqual(asPlanned);
    await page.keyboard.press('Enter');
    await expect.poll(() => head.getAttribute('aria-sort')).toBe('descending');
    expect(await readMl()).toEqual(up.toReversed());

    await page.getByRole('button', { name: /^Copy the table: Volume and mass of each coat/ }).click();
    await page
      .getByRole('status')
      .filter({ hasText: /^Copied/ })
      .waitFor();
    const copied = (await page.evaluate(() => navigator.clipboard.readText())).split('\n');
    expect(copied[0]).toBe('Coat\tVolume\tMass');
    expect(copied.slice(1, -1).map((line) => line.split('\t')[0])).toEqual(await readNames(page));
    // The sum stays below, whatever the order; each value has its unit and its bound.
    expect(copied.at(-1)).toMatch(
      /^Together\t[\d.]+ (ml|L) \u00b1 [\d.]+ (ml|L)\t[\d.]+ k?g \u00b1 [\d.]+ k?g$/,
    );

    await head.getByRole('button').press('Enter');
    await expect.poll(() => head.getAttribute('aria-sort')).toBe('none');
    expect(await readNames(page)).toEqual(asPlanned);
  },
  TEST_MS,
);

test(
  'what was typed in a row goes with it when the table is sorted, and is copied; what to buy is one table',
  async () => {
    const { page } = opened;
    await openStage(page, 'Sheet');
    const probes = page.getByRole('table', { name: /^Points for the pin/ });
    const points = async () =>
      (await probes.getByRole('rowheader').allInnerTexts()).map((text) => text.trim());
    const asPlanned = await points();
    expect(asPlanned.length).toBeGreaterThan(2);
    const field = page.getByLabel(`Measured at point ${asPlanned[0]} with`);
    await field.fill('1/4 in');
    await field.press('Enter');
    const byPoint = probes.getByRole('columnheader', { name: 'Point' }).getByRole('button');
    await byPoint.click();
    await byPoint.click();
    await expect.poll(points).toEqual(asPlanned.toReversed());
    // A quarter of an inch is 6.35 mm: by definition.
    const last = probes.locator('tbody tr').last();
    expect(await last.getByRole('textbox').inputValue()).toMatch(/^6\.[34] mm$/);
    await page.getByRole('button', { name: /^Copy the table: Points for the pin/ }).click();
    await page
      .getByRole('status')
      .filter({ hasText: /^Copied .*Points for the pin/ })
      .waitFor();
    const copied = (await page.evaluate(() => navigator.clipboard.readText())).split('\n');
    expect(copied[0]).toBe('Point\tPiece\tPredicted\tMeasured');
    expect(copied.slice(1).map((line) => line.split('\t')[0])).toEqual(asPlanned.toReversed());
    expect(copied.at(-1)).toMatch(/\t6\.[34] mm$/);

    await openStage(page, 'Mix');
    const buying = page.getByRole('table', { name: 'What to buy' });
    await expect.poll(() => buying.count()).toBe(1);
    const stock = page.getByLabel(/^In the shop: /).first();
    await stock.fill('2 lb');
    await stock.press('Enter');
    // 2 lb are 907.18 g (NIST HB 44).
    await expect.poll(() => stock.inputValue()).toBe('907 g');
  },
  TEST_MS,
);

test(
  'on a telephone a wide table scrolls inside its own box, within reach of the keyboard, and the page does not',
  async () => {
    const { page } = opened;
    await page.setViewportSize({ width: 390, height: 844 });
    await openStage(page, 'Mix');
    const tables = page.locator('scute-table .box:visible');
    await tables.first().waitFor();
    for (const box of await tables.all()) {
      const isWide = await box.evaluate((one) => one.scrollWidth > one.clientWidth);
      await expect.poll(() => box.getAttribute('tabindex')).toBe(isWide ? '0' : null);
    }
    const overhang = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(overhang).toBe(0);
  },
  TEST_MS,
);
