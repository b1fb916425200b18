import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { findBarriers } from './findBarriers.ts';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, type OpenedPage } from './openPage.ts';
import { openStage } from './readFigures.ts';

const TEST_MS = 240_000;
const STAGES = ['Scan', 'Parting', 'Coats', 'Mix', 'Sheet'] as const;
const WINDOWS = [
  { width: 1280, height: 800 },
  { width: 820, height: 1180 },
] as const;

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openDome(browser, inject('pageUrl'));
}, TEST_MS);
afterAll(() => browser?.close());

for (const scheme of ['light', 'dark'] as const) {
  test(
    `no barrier on any stage, ${scheme}, on a laptop and on a tablet`,
    async () => {
      const { page } = opened;
      await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
      const found: string[] = [];
      for (const size of WINDOWS) {
        await page.setViewportSize(size);
        for (const stage of STAGES) {
          await openStage(page, stage);
          for (const barrier of await findBarriers(page)) found.push(`${stage}, ${size.width}: ${barrier}`);
        }
      }
      expect(found).toEqual([]);
      expectQuiet(opened);
    },
    TEST_MS,
  );
}
