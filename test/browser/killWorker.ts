import type { Page } from 'playwright-core';

/** Ends the worker that plans from within, as the system does: no error, no last word. Throws an Error when there is none. */
export async function killWorker(page: Page): Promise<void> {
  const worker = page.workers().find((one) => /\/worker-[^/]*\.js$/.test(one.url()));
  if (!worker) throw new Error(`No worker plans here: ${page.workers().map((one) => one.url())}`);
  // Its answer may go with it.
  await Promise.race([worker.waitForEvent('close'), worker.evaluate(() => self.close()).catch(() => {})]);
}
