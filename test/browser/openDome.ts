import type { Browser, BrowserContextOptions } from 'playwright-core';
import { domeScan } from './domeScan.ts';
import { dropFile } from './dropFile.ts';
import { type OpenedPage, openPage } from './openPage.ts';
import { waitForAnswer } from './waitForAnswer.ts';

/** The page with the half sphere dropped on it, while it was still busy with the demo, and worked out. */
export async function openDome(
  browser: Browser,
  url: string,
  options: BrowserContextOptions = {},
): Promise<OpenedPage> {
  const opened = await openPage(browser, url, options);
  const { page } = opened;
  await page.getByRole('main').waitFor();
  await dropFile(page, 'dome.stl', domeScan());
  await page.locator('scute-title-block').getByText('dome.stl').waitFor();
  await waitForAnswer(page);
  return opened;
}
