import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { domeScan } from './domeScan.ts';
import { dropFile } from './dropFile.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, openPage } from './openPage.ts';
import { overlaps } from './overlaps.ts';
import { openStage } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

/** One window of each layout, and a laptop's at 200 %. The figure's picture is at least so large, px. */
const WINDOWS = [
  { name: 'laptop', width: 1440, height: 900, picture: [600, 400], totals: 6 },
  { name: 'small laptop', width: 1024, height: 768, picture: [500, 340], totals: 6 },
  { name: 'tablet upright', width: 820, height: 1180, picture: [700, 360], totals: 6 },
  { name: 'telephone', width: 390, height: 844, picture: [360, 170], totals: 3 },
  { name: 'laptop at 200 %', width: 720, height: 450, picture: [340, 120], totals: 3 },
] as const;

const STAGES = ['Scan', 'Parting', 'Coats', 'Mix', 'Sheet'] as const;

/** Regions of the sheet as they lie in the window, and how far anything hangs out at the side. */
async function readLayout(page: Page) {
  return page.evaluate(() => {
    const root = document.querySelector('scute-app')?.shadowRoot;
    if (!root) throw new Error('There is no sheet.');
    const boxOf = (name: string, element: Element | null | undefined) => {
      if (!element) throw new Error(`There is no ${name}.`);
      const { left, top, right, bottom } = element.getBoundingClientRect();
      return { name, left, top, right, bottom };
    };
    const regions = [
      boxOf('rail', root.querySelector('scute-rail')),
      boxOf('settings', root.querySelector('scute-settings')),
      boxOf('figure', root.querySelector('.figure')),
      boxOf('panel', root.querySelector('aside')),
      boxOf('title block', root.querySelector('scute-title-block')),
    ];
    const title = root.querySelector('scute-title-block')?.shadowRoot;
    const totals = [...(title?.querySelectorAll('[data-total], [data-strip]') ?? [])].map((element) => {
      const cell = element.parentElement as HTMLElement;
      return {
        ...boxOf(element.getAttribute('data-total') ?? element.getAttribute('data-strip') ?? '', element),
        isCut: element.scrollWidth > cell.clientWidth,
      };
    });
    const panel = root.querySelector('.panel') as HTMLElement;
    const picture = root.querySelector('scute-figure')?.shadowRoot?.querySelector('.stage');
    return {
      regions,
      totals,
      picture: boxOf('picture', picture),
      pageOverhang: document.documentElement.scrollWidth - document.documentElement.clientWidth,
      panelOverhang: panel.scrollWidth - panel.clientWidth,
      scrolled: document.documentElement.scrollHeight - document.documentElement.clientHeight,
    };
  });
}

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

describe('the sheet at every width', () => {
  test('no region covers another, nothing hangs out at the side, figure and totals are in the window', async () => {
    const opened = await openPage(browser, inject('pageUrl'));
    const { page } = opened;
    await page.getByRole('main').waitFor();
    await dropFile(page, 'dome.stl', domeScan());
    await page.locator('scute-title-block').getByText('dome.stl').waitFor();
    await waitForAnswer(page);
    for (const { name, width, height, picture, totals } of WINDOWS) {
      await page.setViewportSize({ width, height });
      for (const stage of STAGES) {
        await openStage(page, stage);
        await page.waitForTimeout(300);
        const at = `${name}, ${stage}`;
        const layout = await readLayout(page);
        const { regions } = layout;
        for (const [i, a] of regions.entries()) {
          for (const b of regions.slice(i + 1)) {
            expect(overlaps(a, b), `${at}: ${a.name} over ${b.name}`).toBe(false);
          }
        }
        expect(layout.pageOverhang, `${at}: page hangs out`).toBe(0);
        expect(layout.panelOverhang, `${at}: panel hangs out`).toBe(0);
        expect(layout.scrolled, `${at}: page scrolls`).toBe(0);
        expect(layout.totals.length, at).toBe(totals);
        for (const box of [...regions, ...layout.totals]) {
          expect(box.left, `${at}: ${box.name}`).toBeGreaterThanOrEqual(0);
          expect(box.top, `${at}: ${box.name}`).toBeGreaterThanOrEqual(0);
          expect(box.right, `${at}: ${box.name}`).toBeLessThanOrEqual(width);
          expect(box.bottom, `${at}: ${box.name}`).toBeLessThanOrEqual(height);
        }
        for (const total of layout.totals) expect(total.isCut, `${at}: ${total.name} cut`).toBe(false);
        if (stage !== 'Sheet') {
          const { left, right, top, bottom } = layout.picture;
          expect(right - left, `${at}: width of the picture`).toBeGreaterThanOrEqual(picture[0]);
          expect(bottom - top, `${at}: height of the picture`).toBeGreaterThanOrEqual(picture[1]);
        }
      }
    }
    expectQuiet(opened);
    await opened.close();
  }, 240_000);

  test('hints come one at a time and are put away for good; a word is explained in place; the strip opens', async () => {
    const opened = await openPage(browser, inject('pageUrl'), { viewport: { width: 390, height: 844 } });
    const { page } = opened;
    await page.getByRole('main').waitFor();
    await dropFile(page, 'dome.stl', domeScan());
    await page.locator('[data-strip="shell-mass"]').getByText(/\d/).waitFor();
    const hints = page.getByRole('region', { name: /^Hint/ });
    for (const number of [1, 2, 3]) {
      await page.getByRole('region', { name: `Hint ${number} of 3` }).waitFor();
      expect(await hints.count()).toBe(1);
      // By keyboard: the button of the next hint is where the last one's was.
      if (number === 1) await page.getByRole('button', { name: 'Got it' }).focus();
      await page.keyboard.press('Enter');
    }
    await hints.waitFor({ state: 'detached' });

    await openStage(page, 'Coats');
    const word = page.getByRole('button', { name: 'reinforced', exact: true }).first();
    await word.focus();
    await page.keyboard.press('Enter');
    await page.getByText('A coat with fibre in it').waitFor({ state: 'visible' });
    const note = await page.getByText('A coat with fibre in it').boundingBox();
    expect(note && note.x >= 0 && note.x + note.width <= 390).toBe(true);
    await page.keyboard.press('Escape');
    await page.getByText('A coat with fibre in it').waitFor({ state: 'hidden' });

    expect(await page.locator('[data-total]').count()).toBe(0);
    await page.getByRole('button', { name: /^All numbers/ }).click();
    expect(await page.locator('[data-total]').count()).toBe(6);
    await page.getByRole('button', { name: /^All numbers/ }).press('Escape');
    expect(await page.locator('[data-total]').count()).toBe(0);

    await page.getByRole('button', { name: /^More/ }).click();
    await page.getByRole('radio', { name: 'US' }).check();
    await page.locator('[data-strip="shell-mass"]').getByText(/lb|oz/).waitFor();

    // Kept in the browser's store a moment after; then a new visit finds none of them.
    await page.waitForTimeout(2000);
    await page.reload();
    await page.locator('[data-strip="shell-mass"]').getByText(/\d/).waitFor();
    expect(await hints.count()).toBe(0);
    expectQuiet(opened);
    await opened.close();
  }, 240_000);
});
