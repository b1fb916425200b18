import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet } from './openPage.ts';
import { openStage } from './readFigures.ts';

const TEST_MS = 240_000;

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

test(
  'on a telephone the words of the legend come over the picture at a touch; the choice names the picture that is there',
  async () => {
    const opened = await openDome(browser, inject('pageUrl'));
    const { page } = opened;
    await page.setViewportSize({ width: 390, height: 844 });
    const figure = page.getByRole('figure');
    const stage = page.getByRole('application');
    await openStage(page, 'Parting');
    const words = figure.getByText('parting line', { exact: true });
    const legend = page.getByRole('button', { name: 'Legend', exact: true });
    await legend.waitFor();
    expect(await words.isVisible()).toBe(false);
    const before = await stage.boundingBox();
    await legend.click();
    await words.waitFor();
    expect(await legend.getAttribute('aria-expanded')).toBe('true');
    // The mould keeps its place.
    expect(await stage.boundingBox()).toEqual(before);
    await legend.click();
    await words.waitFor({ state: 'hidden' });

    await openStage(page, 'Coats');
    const choice = page.getByRole('combobox', { name: 'Picture', exact: true });
    expect(await choice.inputValue()).toBe('thickness');
    await page.getByRole('button', { name: 'Look', exact: true }).click();
    const cut = page.getByRole('checkbox', { name: 'Cut open', exact: true });
    await cut.check();
    expect(await choice.locator('option:checked').textContent()).toContain('covered now');
    await cut.uncheck();
    await expect.poll(() => choice.inputValue()).toBe('thickness');
    expectQuiet(opened);
    await opened.close();
  },
  TEST_MS,
);
