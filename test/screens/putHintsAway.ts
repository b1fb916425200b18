import type { Page } from 'playwright-core';

/** Puts away every hint that comes, so that none stands over what is looked at. */
export async function putHintsAway(page: Page): Promise<void> {
  const gotIt = page.getByRole('button', { name: 'Got it' });
  for (let i = 0; i < 3 && (await gotIt.isVisible()); i++) {
    await gotIt.click();
    await page.waitForTimeout(100);
  }
}
