import type { Locator, Page } from 'playwright-core';
import { openSetting } from './openSetting.ts';
import type { ScreenState } from './ScreenState.ts';

/** Steps before the first batch, and parts of a batch: more than any plan of these has. */
const MOST_PRESSES = 60;

const bench = (page: Page): Locator => page.locator('scute-bench');
const doButton = (page: Page): Locator => bench(page).locator('footer .do');

/** The view for wet hands: its first step, a batch begun, a batch all in, the wait after it. Each goes on from the one before. */
export const BENCH_STATES: readonly ScreenState[] = [
  {
    name: 'bench-first-step',
    reach: async (page) => {
      const button = page.getByRole('button', { name: 'At the bench' });
      await openSetting(page, button);
      await button.click();
      await bench(page).getByRole('heading', { level: 1 }).waitFor();
    },
    show: 'as it is',
  },
  {
    name: 'bench-batch',
    reach: async (page) => {
      await press(page, async () => (await bench(page).locator('scute-batch-pour').count()) > 0);
      await doButton(page).click();
    },
    show: 'as it is',
  },
  {
    name: 'bench-batch-in',
    reach: (page) =>
      press(page, async () => ((await doButton(page).textContent()) ?? '').includes('Batch is on the wall')),
    show: 'as it is',
  },
  {
    name: 'bench-wait',
    reach: async (page) => {
      await doButton(page).click();
      await press(page, async () =>
        /^\s*It (is dry|has set)/.test((await doButton(page).textContent()) ?? ''),
      );
    },
    leave: (page) => bench(page).getByRole('button', { name: 'Back to the plan' }).first().click(),
    show: 'as it is',
  },
];

/** Presses the large button until what is wanted is in sight. */
async function press(page: Page, isThere: () => Promise<boolean>): Promise<void> {
  for (let i = 0; i < MOST_PRESSES; i++) {
    if (await isThere()) return;
    await doButton(page).click();
    await page.waitForTimeout(150);
  }
  throw new Error(`After ${MOST_PRESSES} presses it has not come.`);
}
