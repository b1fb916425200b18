import type { Page } from 'playwright-core';

/**
 * Opens a file through the page's own button, and sees to it that what stands there afterwards is that file's. Throws an
 * Error with the page's words when it is refused.
 */
export async function openScan(page: Page, name: string, bytes: Buffer): Promise<void> {
  await page.locator('scute-rail').getByRole('button', { name: 'Scan' }).click();
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open a scan or plan' }).click();
  await (await choosing).setFiles({ name, mimeType: 'application/octet-stream', buffer: bytes });
  const opened = page.locator('scute-title-block').getByText(name);
  const refused = page.locator('scute-notices').getByRole('listitem');
  await opened.or(refused).first().waitFor({ timeout: OPEN_PATIENCE_MS });
  if (await refused.isVisible()) throw new Error((await refused.allInnerTexts()).join(' '));
}

/** Reading a scan of millions of triangles takes its time on a slow machine. */
const OPEN_PATIENCE_MS = 120_000;
