import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { buildSheet } from '../../src/report/sheet/buildSheet.ts';
import { PAGE_MARGIN_MM, PAPER_MM, PAPERS, type Paper } from '../../src/report/sheet/pageRules.ts';
import { sheetPage } from '../../src/report/sheet/sheetPage.ts';
import { madeUpResult } from '../report/madeUpResult.ts';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, openPage } from './openPage.ts';
import { openStage } from './readFigures.ts';

/** CSS Values Level 4: an inch is 96 px, whatever the screen. */
const PX_PER_MM = 96 / 25.4;
const POINTS_PER_MM = 72 / 25.4;
const TEST_MS = 300_000;

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

/** As wide as what is printed on: between the margins. */
async function layOutForPrint(page: Page, paper: Paper): Promise<void> {
  const { widthMm, heightMm } = PAPER_MM[paper];
  await page.setViewportSize({
    width: Math.floor((widthMm - 2 * PAGE_MARGIN_MM) * PX_PER_MM),
    height: Math.floor((heightMm - 2 * PAGE_MARGIN_MM) * PX_PER_MM),
  });
  await page.emulateMedia({ media: 'print' });
}

/** What reaches beyond the sheet's right edge, by tag and class; and the first page's height, px. */
async function measureSheet(page: Page): Promise<{ readonly beyond: string[]; readonly firstPx: number }> {
  return page.locator('.shop-sheet').evaluate((sheet) => {
    const right = Math.min(sheet.getBoundingClientRect().right, document.documentElement.clientWidth) + 0.5;
    const beyond = [...sheet.querySelectorAll('*')]
      .filter((one) => !one.closest('svg') && !one.classList.contains('hidden'))
      .filter((one) => one.getBoundingClientRect().right > right)
      .map((one) => `${one.tagName} ${one.className}: ${one.textContent?.slice(0, 40)}`);
    const first = sheet.querySelector('.first');
    return { beyond, firstPx: first?.getBoundingClientRect().height ?? Number.NaN };
  });
}

/** Sizes of the pages of a PDF, mm, in order (ISO 32000, 7.7.3.3: MediaBox, in points). */
function pageSizes(pdf: Buffer): { readonly widthMm: number; readonly heightMm: number }[] {
  return [...pdf.toString('latin1').matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)].map((box) => ({
    widthMm: Number(box[1]) / POINTS_PER_MM,
    heightMm: Number(box[2]) / POINTS_PER_MM,
  }));
}

test(
  'the stage shows the sheet with the mould from four sides, and prints it alone on either paper',
  async () => {
    const opened = await openDome(browser, inject('pageUrl'));
    const { page } = opened;
    await openStage(page, 'Sheet');
    const sheet = page.locator('.shop-sheet');
    await sheet.waitFor();
    await expect.poll(() => sheet.locator('image').count(), { timeout: 60_000 }).toBe(4);
    expect(await sheet.getByText('Without its figures.').count()).toBe(0);
    const names = await sheet.locator('.piece-name').allTextContents();
    expect(new Set(names).size).toBe(2);
    // Every batch has a box to tick and room for its true weight.
    expect(await sheet.getByLabel('room for: True weight, g').count()).toBeGreaterThanOrEqual(8);
    for (const paper of PAPERS) {
      await layOutForPrint(page, paper);
      // Nothing but the sheet is on the paper.
      expect(await page.locator('scute-title-block').isVisible()).toBe(false);
      expect(await page.locator('aside').isVisible()).toBe(false);
      const { beyond, firstPx } = await measureSheet(page);
      expect(beyond).toEqual([]);
      expect(firstPx).toBeLessThanOrEqual((PAPER_MM[paper].heightMm - 2 * PAGE_MARGIN_MM) * PX_PER_MM);
      const pdf = await page.pdf({ format: paper === 'a4' ? 'A4' : 'Letter' });
      const sizes = pageSizes(pdf);
      expect(sizes.length).toBeGreaterThan(2);
      for (const size of sizes) expect(size.widthMm).toBeCloseTo(PAPER_MM[paper].widthMm, 0);
    }
    expectQuiet(opened);
    await opened.close();
  },
  TEST_MS,
);

test(
  'printed from another stage, the sheet is there, and says that its pictures are not',
  async () => {
    const opened = await openDome(browser, inject('pageUrl'));
    const { page } = opened;
    await openStage(page, 'Coats');
    // The sheet's program is fetched once the page has nothing else to do.
    await page.evaluate(() => customElements.whenDefined('scute-shop-sheet').then(() => {}));
    await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
    await page.emulateMedia({ media: 'print' });
    await page.getByText('Without its figures.').waitFor();
    expect(await page.getByRole('heading', { name: 'Batches, in the order of the work' }).isVisible()).toBe(
      true,
    );
    expectQuiet(opened);
    await opened.close();
  },
  TEST_MS,
);

describe('the sheet as a file', () => {
  const plan = newPlan('bust.stl');
  const long = 'An item with quite a long name, as makers have them, and then some';

  test.each(PAPERS)('prints on %s without anything beyond the paper, and asks for nothing', async (paper) => {
    const made = madeUpResult();
    const result = {
      ...made,
      shopping: made.shopping.map((item) => ({ ...item, item: long, say: long })),
      batches: made.batches.map((batch) => ({
        ...batch,
        steps: ['liquid', 'water', 'colour', 'thickener', 'accelerator', 'powder', 'chopped glass'].map(
          (item, n) => ({
            item,
            massG: 1234.5 / (n + 1),
            scale: 'bench scale',
            say: '',
          }),
        ),
      })),
    };
    const html = sheetPage(buildSheet(plan, result, null, 'us'), paper, null);
    const opened = await openPage(browser, 'about:blank');
    const { page } = opened;
    await page.setContent(html);
    await layOutForPrint(page, paper);
    const { beyond, firstPx } = await measureSheet(page);
    expect(beyond).toEqual([]);
    const roomPx = (PAPER_MM[paper].heightMm - 2 * PAGE_MARGIN_MM) * PX_PER_MM;
    expect(firstPx).toBeLessThanOrEqual(roomPx);
    // The frame is as tall as the paper it was made for lets it be.
    expect(firstPx).toBeGreaterThan(0.98 * roomPx);
    const sizes = pageSizes(await page.pdf({ preferCSSPageSize: true }));
    expect(sizes.length).toBeGreaterThan(1);
    for (const size of sizes) {
      expect(size.widthMm).toBeCloseTo(PAPER_MM[paper].widthMm, 0);
      expect(size.heightMm).toBeCloseTo(PAPER_MM[paper].heightMm, 0);
    }
    expectQuiet(opened);
    await opened.close();
  });
});
