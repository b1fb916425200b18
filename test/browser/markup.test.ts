import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { writePly } from '../../src/io/writePly.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';
import { dropFile } from './dropFile.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, type OpenedPage, openPage } from './openPage.ts';
import { openStage } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

/** Text that would run if any page took it for markup: a picture whose loading fails, and a script. */
const IMAGE = '<img src=x onerror="window.wasRun=true">';
const SCRIPT = '<script>window.wasRun=true</script>';

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openPage(browser, inject('pageUrl'));
});
afterAll(() => browser?.close());

/** Pictures and scripts that came of the text, in the page and in all its elements' own trees. */
const countMade = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const roots: (Document | ShadowRoot)[] = [document];
    let made = 0;
    for (let root = roots.pop(); root; root = roots.pop()) {
      for (const element of root.querySelectorAll('*')) {
        if (element.shadowRoot) roots.push(element.shadowRoot);
        const isImage = element.localName === 'img' && element.hasAttribute('onerror');
        if (isImage || (element.localName === 'script' && element.textContent?.includes('wasRun'))) made++;
      }
    }
    return made;
  });

const wasRun = (page: Page): Promise<boolean> => page.evaluate(() => 'wasRun' in window);

test('comments and names of a file, and the plan’s own, stay text: in the page, in its sheet', async () => {
  const { page } = opened;
  await page.getByRole('main').waitFor();
  const bytes = writePly(openHalfSphere(40, 12), { comment: `${SCRIPT}${IMAGE}` });
  await dropFile(page, `${IMAGE}.ply`, bytes);
  await page.locator('scute-title-block').getByText('onerror').first().waitFor();
  await waitForAnswer(page);
  const notMesh = new TextEncoder().encode(`ply\nformat ascii 1.0\n${SCRIPT} x\nend_header\n`);
  await dropFile(page, `${SCRIPT}.ply`, notMesh);
  await page.locator('scute-notices').getByRole('listitem').getByText('<script>').first().waitFor();
  await openStage(page, 'Sheet');
  await page.locator('scute-shop-sheet').getByText('onerror').first().waitFor();
  expect(await countMade(page)).toBe(0);
  expect(await wasRun(page)).toBe(false);
  expectQuiet(opened);
});

test('the counter-check: the same text taken for markup is seen, and the page’s policy keeps it from running', async () => {
  const { page, troubles } = opened;
  const before = troubles.length;
  await page.evaluate((text) => {
    const div = document.createElement('div');
    div.innerHTML = text;
    document.body.append(div);
  }, `${SCRIPT}${IMAGE}`);
  expect(await countMade(page)).toBe(2);
  await expect.poll(() => troubles.length).toBeGreaterThan(before);
  expect(await wasRun(page)).toBe(false);
});
