import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { BALL_BELOW_RAD, BALL_RADIUS_MM, ballScan } from './ballScan.ts';
import { dropFile } from './dropFile.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, type OpenedPage, openPage } from './openPage.ts';
import { openStage, readMassG, readPieces, readVolumeMm3 } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

/** A search on a small ball takes some seconds, more where the processor paints the picture too. */
const SEARCH_PATIENCE_MS = 240_000;
const TEST_MS = 400_000;
/** The fields show the answer's pulls, which come a moment after the click. */
const ANSWER_POLL = { timeout: 60_000, interval: 250 };

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openPage(browser, inject('pageUrl'));
  const { page } = opened;
  await page.getByRole('main').waitFor();
  await dropFile(page, 'ball.stl', ballScan());
  await page.locator('scute-title-block').getByText('ball.stl').waitFor();
  await waitForAnswer(page);
  await openStage(page, 'Parting');
});
afterEach(() => expectQuiet(opened));
afterAll(() => browser?.close());

test(
  'a suggestion taken brings its own line in one step back; the chart sets the pull by click and by keys',
  async () => {
    const { page } = opened;
    await page.getByText('Line 1, suggested').waitFor();
    await page.getByRole('button', { name: 'Suggest', exact: true }).click();
    const take = page.getByRole('button', { name: 'Take suggestion 1' });
    await take.waitFor({ timeout: SEARCH_PATIENCE_MS });
    await page.getByRole('button', { name: 'Show suggestion 1 on the mould' }).click();
    await page.getByRole('figure').getByText('suggested line').waitFor();
    await take.click();
    await page.getByText('Line 1, yours').waitFor();
    await waitForAnswer(page);
    await page.getByRole('figure').getByText('parting line', { exact: true }).waitFor();
    expect(await readPieces(page)).toHaveLength(2);
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('Line 1, suggested').waitFor();
    await waitForAnswer(page);

    // The ball is free for any two level pulls, so that the chart's rim is as good as it gets; its right-hand end is +x.
    const disc = page.getByRole('slider', { name: /^Pull of A, its neighbour opposite/ });
    await page.locator('scute-pull-chart').getByRole('list', { name: 'Best pulls' }).waitFor();
    await disc.scrollIntoViewIfNeeded();
    const box = await disc.boundingBox();
    if (box === null) throw new Error('The chart is not in sight.');
    await page.mouse.click(box.x + box.width * 0.9, box.y + box.height / 2);
    const pulls = page.getByLabel(/^Pull of [AB], °$/);
    await expect.poll(() => pulls.first().inputValue(), ANSWER_POLL).toBe('0');
    await waitForAnswer(page);
    await expect.poll(() => pulls.nth(1).inputValue(), ANSWER_POLL).toBe('180');
    await disc.focus();
    await page.keyboard.press('ArrowLeft');
    await waitForAnswer(page);
    await expect.poll(() => pulls.first().inputValue(), ANSWER_POLL).toBe('5');
    await page.getByRole('button', { name: 'Undo' }).click();
    await waitForAnswer(page);
    await expect.poll(() => pulls.first().inputValue(), ANSWER_POLL).toBe('0');
  },
  TEST_MS,
);

test(
  'one piece pulled up locks as deep as the closed form has it; a spot flies; filler clears it and is taken back',
  async () => {
    const { page } = opened;
    await page
      .getByRole('group', { name: 'Number of pieces, by a first line' })
      .getByRole('radio', { name: '1', exact: true })
      .check();
    await waitForAnswer(page);
    const locks = page.locator('[data-total="deepest-lock"]');
    // The widest girth has to pass where the foot stands: R (1 - cos a). Flat facets and half a printed digit take the rest.
    const depthMm = BALL_RADIUS_MM * (1 - Math.cos(BALL_BELOW_RAD));
    const readDepth = async () => Number.parseFloat((await locks.textContent()) ?? '');
    expect(Math.abs((await readDepth()) - depthMm)).toBeLessThan(0.02 * depthMm + 0.05);
    // What a cylinder about the ball holds beside it, from the board up to the equator at height h: pi h^3 / 3 (Archimedes,
    // On the Sphere and Cylinder I, 34). Flat facets leave a little more room, the filler's own grid takes the rest.
    const girthMm = BALL_RADIUS_MM * Math.sin(BALL_BELOW_RAD);
    const fillerMm3 = (Math.PI * girthMm ** 3) / 3;

    await page.keyboard.press('5');
    await page.getByRole('figure').getByText('seen from above').waitFor();
    await page.getByRole('button', { name: /^A1\s/ }).first().click();
    await page
      .getByRole('figure')
      .getByText(/seen from (the|below)/)
      .waitFor();

    const before = await readPieces(page);
    await page.getByRole('button', { name: 'Fill all beyond the give' }).click();
    await waitForAnswer(page);
    await page.getByRole('table', { name: 'Filled spots' }).waitFor();
    const [, massG, volumeMm3] = await readFiller(page);
    expect(Math.abs(volumeMm3 - fillerMm3) / fillerMm3).toBeLessThan(0.03);
    expect(massG).toBeGreaterThan(0);
    const text = (await locks.textContent()) ?? '';
    expect(/nowhere/.test(text) || (await readDepth()) < 1.5, text).toBe(true);
    // A zone of the ball and the cylinder's wall of the same height have the same area (Archimedes, ibid. I, 42 and 43), so
    // that the shell over the filler weighs what it weighed over the ball.
    const [over] = await readPieces(page);
    expect(Math.abs(over.area.value - before[0].area.value) / before[0].area.value).toBeLessThan(0.02);

    await page.getByRole('button', { name: 'Take all filler back' }).click();
    await waitForAnswer(page);
    expect(await readPieces(page)).toEqual(before);
    expect(await page.getByRole('table', { name: 'Filled spots' }).count()).toBe(0);
  },
  TEST_MS,
);

/** "Filled 12 g, 10.4 ml ± 0.1 ml": the words, grams, cubic millimetres. */
async function readFiller(page: Page): Promise<[string, number, number]> {
  const heading = page.locator('scute-spots h4').filter({ hasText: 'Filled' });
  const text = ((await heading.textContent()) ?? '').replace(/\s+/g, ' ');
  const [, mass = '', volume = ''] = /Filled (.+?), (.+?) ±/u.exec(text) ?? [];
  return [text, readMassG(mass).value, readVolumeMm3(volume).value];
}
