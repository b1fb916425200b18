import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, type OpenedPage } from './openPage.ts';

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openDome(browser, inject('pageUrl'));
});
afterAll(() => browser?.close());

test('the five views by keys 1 to 5, and arrows turn the figure', async () => {
  const { page } = opened;
  const caption = page.locator('figcaption');
  const views = ['the front', 'the back', 'the left', 'the right', 'above'];
  for (const [i, from] of views.entries()) {
    await page.keyboard.press(String(i + 1));
    await caption.getByText(new RegExp(`seen from ${from}$`)).waitFor();
  }
  await page.keyboard.press('1');
  await caption.getByText(/seen from the front$/).waitFor();
  await page.getByRole('application').focus();
  for (let i = 0; i < 6; i++) await page.keyboard.press('ArrowRight');
  await caption.getByText(/seen from the (left|right) front$/).waitFor();
  expectQuiet(opened);
});

/** More stops than any stage has, once round the page: tables sort by their heads, words of the trade open by key. */
const MOST_STOPS = 250;

test('every stage is reached and opened with the keyboard alone', async () => {
  const { page } = opened;
  for (const name of ['Scan', 'Parting', 'Coats', 'Mix', 'Sheet']) {
    const button = page.locator('scute-rail').getByRole('button', { name });
    for (let i = 0; i < MOST_STOPS && !(await button.evaluate((b) => b.matches(':focus'))); i++) {
      await page.keyboard.press('Tab');
    }
    expect(await button.evaluate((b) => b.matches(':focus')), `${name} is reached by Tab`).toBe(true);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 2, name, exact: true }).waitFor();
  }
  expect(opened.troubles).toEqual([]);
});
