import { readFile } from 'node:fs/promises';
import type { Browser, Download } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { domeScan } from './domeScan.ts';
import { dropFile } from './dropFile.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, openPage } from './openPage.ts';
import { openStage, readShellMass } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

test('after the first visit the page starts without a network: plans a scan of one’s own, prints, saves plan and picture, opens the demo', async () => {
  const opened = await openPage(browser, inject('pageUrl'), { serviceWorkers: 'allow' });
  const { page } = opened;
  // Kept whole: the worker of the offline start has put all its files away once it is active.
  await page.evaluate(async () => {
    const late = new Promise((_, reject) =>
      setTimeout(() => reject(new Error('No service worker was ready within 100 s.')), 100_000),
    );
    await Promise.race([navigator.serviceWorker.ready, late]);
  });
  await page.context().setOffline(true);
  await page.reload();
  expect(await page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);
  // Nothing but the kept files answers now.
  expect(
    await page.evaluate(() =>
      fetch('./not-kept').then(
        () => true,
        () => false,
      ),
    ),
  ).toBe(false);
  await page.getByRole('main').waitFor();
  await dropFile(page, 'dome.stl', domeScan());
  await page.getByText('dome.stl').first().waitFor();
  await waitForAnswer(page, 280_000);
  expect((await readShellMass(page)).value).toBeGreaterThan(0);
  const picture = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save the picture' }).click();
  expect(await startOf(await picture, 4)).toBe('\x89PNG');
  await openStage(page, 'Sheet');
  await page.locator('.shop-sheet image').first().waitFor({ state: 'attached' });
  expect((await page.pdf()).subarray(0, 5).toString('latin1')).toBe('%PDF-');
  const bundle = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save the plan' }).click();
  expect((await bundle).suggestedFilename()).toBe('dome.scute');
  // A zip's first entry.
  expect(await startOf(await bundle, 4)).toBe('PK\x03\x04');
  await page.getByRole('button', { name: 'Plans', exact: true }).click();
  await page.getByRole('button', { name: 'Demo', exact: true }).click();
  await page.locator('scute-title-block').getByText('Leaping carp').first().waitFor();
  const troubles = opened.troubles.filter((line) => !/ERR_INTERNET_DISCONNECTED|ERR_FAILED/.test(line));
  expectQuiet({ ...opened, troubles });
  await opened.close();
}, 600_000);

/** The first bytes of a file that the page gave away, one letter a byte. */
async function startOf(file: Download, byteCount: number): Promise<string> {
  return (await readFile(await file.path())).subarray(0, byteCount).toString('latin1');
}

test('the page can be installed: its manifest names a start and pictures that are there', async () => {
  const opened = await openPage(browser, inject('pageUrl'));
  const { page } = opened;
  const found = await page.evaluate(async () => {
    const link = document.querySelector<HTMLLinkElement>('link[rel=manifest]');
    const manifest = await (await fetch(link?.href ?? '')).json();
    const sizes = await Promise.all(
      (manifest.icons as { src: string; type: string }[]).map(async ({ src }) => {
        const image = new Image();
        image.src = new URL(src, link?.href).href;
        await image.decode();
        return image.naturalWidth;
      }),
    );
    return { manifest, sizes };
  });
  expect(found.manifest).toMatchObject({ name: 'Scute', display: 'standalone', start_url: './' });
  expect(found.sizes.filter((px) => px === 192 || px === 512).length).toBeGreaterThanOrEqual(3);
  expectQuiet(opened);
  await opened.close();
});
