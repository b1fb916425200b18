import type { Page } from 'playwright-core';

/**
 * Waits until the title block says that the present plan is worked out, finely and not just roughly. Throws an Error with
 * what stands there when the plan has no answer.
 */
export async function waitForAnswer(page: Page, timeoutMs = 150_000): Promise<void> {
  const done = page.getByText('Worked out', { exact: true });
  const failed = page.getByText('No answer', { exact: true });
  await done.or(failed).first().waitFor({ timeout: timeoutMs });
  if (await failed.isVisible()) {
    const [standing] = await page.locator('scute-title-block .status').allInnerTexts();
    throw new Error(`The page has no answer: ${standing}`);
  }
}
