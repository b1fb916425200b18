import type { Browser, Page } from 'playwright-core';
import { openPage } from '../browser/openPage.ts';
import type { ScreenShooter } from './ScreenShooter.ts';
import type { ScreenState } from './ScreenState.ts';

const gotIt = (page: Page) => page.getByRole('button', { name: 'Got it' });

/** What is seen before the first answer. The demo is not kept before it is changed, so that each reload is a first visit. */
const BEFORE_THE_ANSWER: readonly ScreenState[] = [
  {
    name: 'working',
    isPerWindow: true,
    isFleeting: true,
    reach: async (page) => {
      await page.reload();
      await page.locator('scute-progress').first().waitFor();
    },
  },
];

const HINTS: readonly ScreenState[] = [1, 2, 3].map((number) => ({
  name: `hint-${number}`,
  reach: async (page) => {
    for (let at = 1; at < number; at++) {
      if (await page.getByRole('region', { name: `Hint ${at} of 3` }).isVisible()) await gotIt(page).click();
    }
    await page.getByRole('region', { name: `Hint ${number} of 3` }).waitFor({ timeout: 120_000 });
  },
}));

const EMPTY: readonly ScreenState[] = [
  {
    name: 'empty',
    reach: (page) => page.getByRole('button', { name: 'Open a scan', exact: true }).waitFor(),
  },
];

/** Pictures of a first visit: without any scan, while the demo is worked out, and the three hints. Returns what went wrong. */
export async function shootFirstVisit(
  browser: Browser,
  url: string,
  shooter: ScreenShooter,
): Promise<readonly string[]> {
  if (!shooter.wants('start', [...EMPTY, ...BEFORE_THE_ANSWER, ...HINTS])) return [];
  const again = (page: Page) => page.reload();
  const bare = await openPage(browser, url);
  await bare.page.route(/\.ply(\?|$)/, (route) => route.abort());
  await bare.page.reload();
  await shooter.shoot(bare.page, 'start', EMPTY, again);
  await bare.close();
  const { page, troubles, close } = await openPage(browser, url);
  await shooter.shoot(page, 'start', [...BEFORE_THE_ANSWER, ...HINTS], again);
  await close();
  return troubles;
}
