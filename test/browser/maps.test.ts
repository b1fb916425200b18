import { readFile } from 'node:fs/promises';
import { decode } from 'fast-png';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, type OpenedPage } from './openPage.ts';
import { openStage } from './readFigures.ts';

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openDome(browser, inject('pageUrl'), { viewport: { width: 1440, height: 900 } });
  await openStage(opened.page, 'Parting');
});
afterEach(() => expectQuiet(opened));
afterAll(() => browser?.close());

test('each picture on the mould has a legend with its unit and a reading; the saved one holds its legend', async () => {
  const { page } = opened;
  const figure = page.getByRole('figure');
  const picture = page.getByRole('combobox', { name: 'Picture' });
  const application = page.getByRole('application');
  const box = await application.boundingBox();
  if (!box) throw new Error('the figure has no size');
  const middle = [box.x + box.width / 2, box.y + box.height / 2] as const;

  const cases = [
    ['thickness', 'Predicted thickness of all coats, mm', /\d\smm, [AB]\s/],
    ['undercut', 'Depth that locks, mm', /free|locks/],
    ['draft', "Draft for each piece's pull, degrees", /draft .*\u00b0/],
    ['distance', 'Body beyond the scan as it came, mm', /as the scan/],
  ] as const;
  for (const [of, title, told] of cases) {
    await picture.selectOption(of);
    await figure.getByText(title, { exact: true }).waitFor();
    await page.mouse.move(2, 2);
    await page.mouse.move(...middle);
    const reading = figure.locator('text.reading');
    await reading.waitFor();
    expect(await reading.textContent()).toMatch(told);
  }

  // By keys: the cross in the middle reads, and what it reads is said aloud.
  await picture.selectOption('draft');
  await figure.getByText("Draft for each piece's pull, degrees", { exact: true }).waitFor();
  await page.mouse.move(2, 2);
  await picture.focus();
  await page.keyboard.press('Shift+Tab');
  await application.focus();
  await page.keyboard.press('ArrowLeft');
  await page
    .locator('scute-live-region')
    .getByText(/draft .*\u00b0/)
    .waitFor();

  // A range of one's own rules the scale anew.
  await page.getByRole('button', { name: 'Range' }).click();
  await page.getByLabel('From, degrees').fill('0');
  await page.keyboard.press('Enter');
  await page.getByLabel('To, degrees').fill('60');
  await page.keyboard.press('Enter');
  await figure.locator('scute-figure-legend svg text').getByText('50', { exact: true }).waitFor();

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the picture' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('dome-fig-2-draft.png');
  const png = decode(await readFile(await download.path()));
  const stage = await application.boundingBox();
  expect(png.width).toBe(2 * Math.round(stage?.width ?? 0));
  // Taller than the mould by caption and legend; the strip of the scale holds bands of colour, and paper round them.
  const below = Math.round(2 * (46 + (stage?.height ?? 0)));
  expect(png.height).toBeGreaterThan(below + 100);
  const seen = new Set<string>();
  for (let y = below; y < png.height; y += 2) {
    for (let x = 0; x < png.width; x += 2) {
      const at = (y * png.width + x) * png.channels;
      seen.add([png.data[at], png.data[at + 1], png.data[at + 2]].map((c) => c >> 4).join(' '));
    }
  }
  expect(seen.has('15 15 15')).toBe(true);
  expect(seen.size).toBeGreaterThan(12);

  // Cut open: the coats are named, and the ruler measures all of them.
  await page.getByLabel('Cut open').check();
  await figure.locator('text.note').first().waitFor();
  await page.getByRole('checkbox', { name: 'Ruler' }).check();
  await figure.locator('text.ruler').waitFor();
  const before = await figure.locator('text.ruler').textContent();
  await page.getByRole('button', { name: /Ruler, second end/ }).focus();
  await page.keyboard.press('Shift+ArrowRight');
  await expect.poll(() => figure.locator('text.ruler').textContent()).not.toBe(before);
});
