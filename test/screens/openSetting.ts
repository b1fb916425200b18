import type { Locator, Page } from 'playwright-core';

/** Brings a control of the whole sheet into sight: at the foot of the margin where there is room, behind "More" elsewhere. */
export async function openSetting(page: Page, control: Locator): Promise<void> {
  if (!(await control.isVisible())) await page.getByRole('button', { name: /^More/ }).click();
  await control.waitFor();
}
