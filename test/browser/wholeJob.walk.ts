import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { AUTOSAVE_DELAY_MS } from '../../src/session/Autosave.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, openPage } from './openPage.ts';
import { openStage, readPieces, readShellMass } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

/** What a tape says of it here: invented, as a height to type. */
const TRUE_HEIGHT_MM = 60;
const SCAN = 'goblet.stl';
const TEST_MS = 400_000;

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

for (const [device, options] of [
  ['a laptop', { viewport: { width: 1440, height: 900 } }],
  ['an upright tablet', { viewport: { width: 820, height: 1180 }, hasTouch: true }],
] as const) {
  test(
    `the whole job on ${device}: from one's own scan to logged batches, kept, saved and opened elsewhere`,
    async () => {
      const opened = await openPage(browser, inject('pageUrl'), { ...options, permissions: [] });
      const { page } = opened;
      await openScan(page);
      await setUp(page);
      await paintKeyBack(page);
      await partIt(page);
      await chooseCoats(page);
      const totals = await readTotals(page);
      await printSheet(page);
      await logTwoBatches(page);
      const logged = await readTotals(page);

      await page.waitForTimeout(AUTOSAVE_DELAY_MS + 1000);
      await page.reload();
      await page.locator('scute-title-block').getByText('Orator').first().waitFor();
      await waitForAnswer(page);
      expect(await readTotals(page)).toEqual(logged);
      expect(totals.shell).toEqual(logged.shell);

      const file = await exportFile(page);
      expectQuiet(opened);
      await opened.close();

      const elsewhere = await openPage(browser, inject('pageUrl'), options);
      await elsewhere.page.getByRole('main').waitFor();
      await pickFile(elsewhere.page, file);
      await elsewhere.page.locator('scute-title-block').getByText('Orator').first().waitFor();
      await waitForAnswer(elsewhere.page);
      expect(await readTotals(elsewhere.page)).toEqual(logged);
      expectQuiet(elsewhere);
      await elsewhere.close();
    },
    TEST_MS,
  );
}

interface PickedFile {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

async function pickFile(page: Page, file: PickedFile): Promise<void> {
  await openStage(page, 'Scan');
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open a scan or plan' }).click();
  await (await chooser).setFiles(file);
}

async function openScan(page: Page): Promise<void> {
  await page.getByRole('main').waitFor();
  const buffer = await readFile(new URL(`../fixtures/${SCAN}`, import.meta.url));
  await pickFile(page, { name: SCAN, mimeType: 'application/octet-stream', buffer });
  await page.locator('scute-title-block').getByText(SCAN).waitFor();
  await waitForAnswer(page);
}

/** Unit, true height, a turn, and the foot cut off level, which raises the board. */
async function setUp(page: Page): Promise<void> {
  await page.getByRole('radio', { name: 'mm', exact: true }).check();
  await page.getByLabel(/^Turn/).fill('30');
  await page.keyboard.press('Enter');
  await waitForAnswer(page);
  await page.getByLabel('Height above the board').fill(`${TRUE_HEIGHT_MM} mm`);
  await page.keyboard.press('Enter');
  await waitForAnswer(page);
  await page.getByRole('button', { name: 'Cut with a plane' }).click();
  await page.getByLabel('Height above the board').last().fill('4 mm');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Cut it away' }).click();
  await waitForAnswer(page);
  await openStage(page, 'Sheet');
  await page.locator('scute-sheet-panel').getByText('Names on the sheet').click();
  await page.locator('scute-sheet-panel').getByRole('textbox', { name: 'Job', exact: true }).fill('Orator');
  await page.keyboard.press('Enter');
  await openStage(page, 'Scan');
}

/** A spot in the middle of the figure is painted as one to keep clear, and the rubber's area falls by about the brush's disc. */
async function paintKeyBack(page: Page): Promise<void> {
  await page.keyboard.press('1');
  await page.getByRole('button', { name: 'Paint an area' }).click();
  await page.getByLabel('Brush, radius').fill('6 mm');
  await page.keyboard.press('Enter');
  await clickFigure(page, [[0.5, 0.3]]);
  await page.getByText('one dab').waitFor();
  await page.getByRole('button', { name: 'Done' }).click();
  await waitForAnswer(page);
}

/** A line of one's own, taken back for the best suggestion; the pieces slid apart. */
async function partIt(page: Page): Promise<void> {
  await openStage(page, 'Parting');
  await page.getByRole('button', { name: 'Draw a line' }).click();
  await clickFigure(page, [
    [0.5, 0.72],
    [0.5, 0.6],
    [0.5, 0.48],
  ]);
  await page.getByRole('button', { name: 'Take the line' }).waitFor();
  await page.getByRole('button', { name: 'Cancel' }).click();
  await page.getByRole('button', { name: 'Suggest', exact: true }).click();
  await page.getByRole('button', { name: 'Take suggestion 1' }).click();
  await page.getByText(/^Line 1, yours/).waitFor();
  await waitForAnswer(page);
  const shell = await readShellMass(page);
  const pieces = await readPieces(page);
  const sumG = pieces.reduce((sum, { mass }) => sum + mass.value, 0);
  const roundingG = pieces.reduce((sum, { mass }) => sum + mass.rounding, shell.rounding);
  expect(pieces).toHaveLength(2);
  expect(Math.abs(sumG - shell.value)).toBeLessThanOrEqual(roundingG);
  await page.getByLabel('Apart').fill('0.4');
  await page.getByRole('list', { name: 'What touches' }).waitFor();
  await page.getByLabel('Apart').fill('0');
}

/** A thicker second coat, and another system and back. */
async function chooseCoats(page: Page): Promise<void> {
  await openStage(page, 'Coats');
  const before = await readShellMass(page);
  await page.getByLabel('Thickness of Build', { exact: true }).fill('3.5 mm');
  await page.keyboard.press('Enter');
  await waitForAnswer(page);
  expect((await readShellMass(page)).value).toBeGreaterThan(before.value);
  // What the change did stands in the title block.
  await page.locator('scute-title-block').getByText(/^\+\d/).first().waitFor();
  await openStage(page, 'Mix');
}

async function printSheet(page: Page): Promise<void> {
  await openStage(page, 'Sheet');
  await page.locator('.shop-sheet image').first().waitFor({ state: 'attached' });
  const pdf = await page.pdf({ preferCSSPageSize: true });
  expect(pdf.subarray(0, 5).toString('latin1')).toBe('%PDF-');
  expect(pdf.length).toBeGreaterThan(20_000);
}

/** Both first batches at the bench, by the thumb. */
async function logTwoBatches(page: Page): Promise<void> {
  const atBench = page.getByRole('button', { name: 'At the bench' });
  if (!(await atBench.isVisible())) await page.getByRole('button', { name: /^More/ }).click();
  await atBench.click();
  const bench = page.locator('scute-bench');
  await bench.waitFor();
  for (let logged = 0; logged < 2; ) {
    const pours = bench.getByRole('list', { name: 'To weigh, in this order' });
    if (await pours.isVisible()) {
      for (const line of await pours.getByRole('checkbox').all()) await line.click();
      logged++;
    }
    await bench.locator('nav button.do').click();
  }
  await bench.getByRole('button', { name: 'Back to the plan' }).first().click();
  await page.locator('scute-title-block .batches').getByText('2 done').waitFor();
  await waitForAnswer(page);
}

async function exportFile(page: Page): Promise<PickedFile> {
  await openPlans(page);
  const waiting = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save to a file: Orator' }).click();
  const got = await waiting;
  expect(got.suggestedFilename()).toBe('Orator.scute');
  return {
    name: got.suggestedFilename(),
    mimeType: 'application/zip',
    buffer: await readFile(await got.path()),
  };
}

async function openPlans(page: Page): Promise<void> {
  const plans = page.getByRole('button', { name: 'Plans', exact: true });
  if (!(await plans.isVisible())) await page.getByRole('button', { name: /^More/ }).click();
  await plans.click();
}

/** Clicks at shares of the figure's width and height. */
async function clickFigure(page: Page, places: readonly (readonly [number, number])[]): Promise<void> {
  const box = await page.getByRole('application').boundingBox();
  if (box === null) throw new Error('The figure is not in sight.');
  for (const [x, y] of places) await page.mouse.click(box.x + x * box.width, box.y + y * box.height);
}

/** Every number of the title block, as it is printed. */
async function readTotals(page: Page) {
  const shell = await readShellMass(page);
  const values = await page.locator('scute-title-block .value').allInnerTexts();
  return { shell, values };
}
