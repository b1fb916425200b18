import type { Page } from 'playwright-core';

/** Presses of an arrow key, each 7.5 degrees. */
const TURNS = 4;
const TILTS = 3;

/** From the left front and a little from above, as the page shows a scan first, whatever was looked at before. */
export async function lookAslant(page: Page): Promise<void> {
  await page.getByRole('application').focus();
  await page.keyboard.press('1');
  for (let i = 0; i < TURNS; i++) await page.keyboard.press('ArrowLeft');
  for (let i = 0; i < TILTS; i++) await page.keyboard.press('ArrowUp');
  await page.keyboard.press('f');
}
