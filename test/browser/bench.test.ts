import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { AUTOSAVE_DELAY_MS } from '../../src/session/Autosave.ts';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, type OpenedPage } from './openPage.ts';
import { waitForAnswer } from './waitForAnswer.ts';

const TEST_MS = 300_000;
/** Least size of what a thumb presses to go on, px: own choice, twice the 44 px of WCAG 2.2, 2.5.5. */
const THUMB_PX = 88;

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openDome(browser, inject('pageUrl'), {
    viewport: { width: 820, height: 1180 },
    hasTouch: true,
  });
});
afterEach(() => expectQuiet(opened));
afterAll(() => browser?.close());

const bench = (page: Page): Locator => page.locator('scute-bench');
const doButton = (page: Page): Locator => bench(page).locator('footer .do');
const heading = (page: Page): Locator => bench(page).getByRole('heading', { level: 1 });

async function goToBench(page: Page): Promise<void> {
  const button = page.getByRole('button', { name: 'At the bench' });
  if (!(await button.isVisible())) await page.getByRole('button', { name: /^More/ }).tap();
  await button.tap();
  await heading(page).waitFor();
}

/** Ticks steps that only take a thumb until a batch is in sight; returns what was ticked. */
async function tickUntilBatch(page: Page): Promise<string[]> {
  const ticked: string[] = [];
  while ((await bench(page).locator('scute-batch-pour').count()) === 0) {
    const what = (await heading(page).textContent()) ?? '';
    ticked.push(what);
    await doButton(page).tap();
    await expect.poll(() => heading(page).textContent()).not.toBe(what);
  }
  return ticked;
}

/** Grams written in a line of text. */
const gramsOf = (text: string): number => Number(text.replace(/[^\d.]/g, ''));

/** Pours the batch in sight part by part with the large button; returns its weights and what the scale is said to show. */
async function pourBatch(page: Page): Promise<{ readonly masses: number[]; readonly shows: number[] }> {
  const parts = bench(page).getByRole('checkbox');
  const masses = (await bench(page).locator('scute-batch-pour .mass').allTextContents()).map(gramsOf);
  const shows = (await bench(page).locator('scute-batch-pour .how').allTextContents()).map((words) =>
    Number(/shows ([\d.]+)/.exec(words.replace(/\u202f/g, ''))?.[1]),
  );
  for (const [n] of masses.entries()) {
    const box = await parts.nth(n).boundingBox();
    expect(box?.height).toBeGreaterThanOrEqual(THUMB_PX);
    await doButton(page).tap();
    await expect.poll(() => parts.nth(n).getAttribute('aria-checked')).toBe('true');
  }
  return { masses, shows };
}

test(
  'two batches poured by thumb on a tablet: logged as weighed, undone, and kept with their timers through a reload',
  async () => {
    const { page } = opened;
    await goToBench(page);
    // A step without a bucket: what to do, its figures as large as a title, what waits for it.
    const card = bench(page).locator('scute-step-card');
    await card.getByRole('list', { name: 'What to do' }).getByRole('listitem').first().waitFor();
    const sizePx = await card
      .locator('dd')
      .first()
      .evaluate((one) => Number.parseFloat(getComputedStyle(one).fontSize));
    expect(sizePx).toBeGreaterThanOrEqual(32);
    await card.getByRole('list', { name: 'What waits for it' }).getByRole('listitem').first().waitFor();
    const before = await tickUntilBatch(page);
    // Release dries by its own clock, begun when it was brushed on; it is over when the user says so.
    expect(before.at(-1)).toBe('Release dries');
    await expect.poll(() => doButton(page).textContent()).toMatch(/is in\s*$/);

    const { masses, shows } = await pourBatch(page);
    // On one scale, zeroed with the empty bucket, each part adds to what it shows.
    masses.forEach((_, n) => {
      const sumG = masses.slice(0, n + 1).reduce((sum, massG) => sum + massG, 0);
      expect(shows[n]).toBeCloseTo(sumG, 6);
    });
    const allG = masses.reduce((sum, massG) => sum + massG, 0);
    // The parts have met: the clock runs without having been started.
    await bench(page)
      .getByRole('timer')
      .filter({ hasText: /^\s*\d+:\d\d\s*$/ })
      .waitFor();

    // A part ticked by mistake goes out again.
    await bench(page).getByRole('checkbox').last().tap();
    await expect.poll(() => doButton(page).textContent()).toMatch(/is in\s*$/);
    await doButton(page).tap();
    await expect.poll(() => doButton(page).textContent()).toContain('Batch is on the wall');

    const first = (await heading(page).textContent()) ?? '';
    await doButton(page).tap();
    await expect.poll(() => heading(page).textContent()).not.toBe(first);
    await bench(page)
      .getByText(new RegExp(`^On the wall: .*, ${allG.toFixed(1)} g\\.$`))
      .waitFor();
    await bench(page).getByRole('button', { name: 'Undo' }).tap();
    await expect.poll(() => heading(page).textContent()).toBe(first);
    await expect.poll(() => doButton(page).textContent()).toContain('Batch is on the wall');
    await doButton(page).tap();

    // The coat sets: what follows is weighed out before it is over, with its clock still in sight.
    await heading(page)
      .getByText(/sets before the next coat/)
      .waitFor();
    const place = bench(page).locator('.place');
    const placeBefore = await place.textContent();
    await bench(page).getByRole('button', { name: /^Next/ }).tap();
    await bench(page).locator('scute-batch-pour').waitFor();
    await expect.poll(() => doButton(page).isEnabled(), { timeout: 150_000 }).toBe(true);
    await pourBatch(page);
    const strip = bench(page).getByRole('list', { name: 'Timers' }).getByRole('listitem');
    await strip.filter({ hasText: /partial cure/ }).waitFor();
    await doButton(page).tap();
    await expect.poll(() => place.textContent()).not.toBe(placeBefore);
    // Worked out anew: a wait that was passed over is gone from the list.
    const settled = bench(page).locator('main[aria-busy="false"]');
    await settled.waitFor({ timeout: 150_000 });
    const standing = await place.textContent();
    const shownAt = await heading(page).textContent();

    await page.waitForTimeout(AUTOSAVE_DELAY_MS + 1500);
    await page.reload();
    await expect.poll(() => heading(page).textContent(), { timeout: 150_000 }).toBe(shownAt);
    await settled.waitFor({ timeout: 150_000 });
    expect(await place.textContent()).toBe(standing);
    await bench(page)
      .getByText(/^\s*\d+:\d\d\s*$/)
      .first()
      .waitFor();
    await bench(page).getByRole('button', { name: 'Back to the plan' }).tap();
    await waitForAnswer(page);
    await page.locator('scute-title-block').getByText('2 done').first().waitFor();
  },
  TEST_MS,
);

test(
  'keys alone: arrows leaf through, space ticks; a timer that ends is said',
  async () => {
    const { page } = opened;
    await goToBench(page);
    const was = await heading(page).textContent();
    await page.keyboard.press('ArrowLeft');
    await expect.poll(() => heading(page).textContent()).not.toBe(was);
    await bench(page).getByText('Done', { exact: true }).first().waitFor();
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => heading(page).textContent()).toBe(was);
    // The clock is put forward; no wait between these coats is as long as a day.
    await page.clock.install();
    await page.clock.fastForward('24:00:00');
    await bench(page)
      .getByRole('alert')
      .filter({ hasText: /^Over.*partial cure/ })
      .waitFor();
    await heading(page).focus();
    await page.keyboard.press('Space');
    await expect.poll(() => heading(page).textContent()).not.toBe(was);
  },
  TEST_MS,
);
