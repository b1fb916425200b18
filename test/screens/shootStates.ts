import type { Page } from 'playwright-core';
import { dropFile } from '../browser/dropFile.ts';
import { openStage } from '../browser/readFigures.ts';
import { waitForAnswer } from '../browser/waitForAnswer.ts';

/** The bytes that every PNG begins with: a picture whose name says STL. */
const NOT_A_SCAN = Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

/** The view shades the surface in steps after each change; this long it may take until nothing moves any more. */
const SETTLE_MS = 1200;

/**
 * Where the draft line is clicked, as shares of the figure's width and height: up the middle of the thing. A click beside
 * the thing sets no point, so that there are more than a line needs.
 */
const CLICKS = [
  [0.52, 0.84],
  [0.52, 0.74],
  [0.51, 0.64],
  [0.53, 0.54],
  [0.52, 0.44],
  [0.53, 0.34],
] as const;

/** Takes a picture of each stage and state of a page that is worked out. `pathOf` names the file of a state. */
export async function shootStates(page: Page, pathOf: (state: string) => string): Promise<void> {
  const shoot = async (state: string) => {
    await page.mouse.move(1, 1);
    await page.waitForTimeout(SETTLE_MS);
    await page.screenshot({ path: pathOf(state) });
  };
  await lookAslant(page);
  await openStage(page, 'Scan');
  await shoot('1-scan');
  await openStage(page, 'Parting');
  await shoot('2-parting');
  await openStage(page, 'Coats');
  await shoot('3-coats');
  await openStage(page, 'Mix');
  await shoot('4-mix');
  await openStage(page, 'Sheet');
  await shoot('5-sheet');

  await openStage(page, 'Parting');
  await page.getByLabel('Apart').fill('0.5');
  await page.getByLabel('Shell on').check();
  await shoot('pieces-apart');
  await page.getByLabel('Apart').fill('0');
  await shoot('shell-on');
  await page.getByLabel('Shell on').uncheck();

  await openStage(page, 'Coats');
  await page.getByLabel('Cut open').check();
  await page
    .getByText(/from the front$/)
    .first()
    .waitFor();
  await page.waitForTimeout(SECTION_MS);
  await shoot('cut-open');
  await page.getByLabel('Cut open').uncheck();

  await openStage(page, 'Parting');
  await page.keyboard.press('1');
  await page.getByRole('button', { name: 'Draw a line' }).click();
  await clickAlong(page);
  await shoot('drawing');
  await page.getByRole('button', { name: 'Cancel' }).click();
  await page.getByRole('button', { name: 'Move points' }).click();
  await shoot('moving-points');
  await page.getByRole('button', { name: 'Done' }).click();
  await openStage(page, 'Scan');
  await page.getByRole('button', { name: 'Set by a true distance' }).click();
  await clickAlong(page);
  await shoot('measuring');
  await page.getByRole('button', { name: 'Cancel' }).click();
  await openStage(page, 'Parting');

  await dropFile(page, 'photo.stl', NOT_A_SCAN);
  await page.locator('scute-notices').getByRole('listitem').waitFor();
  await shoot('refused-file');
  await page.getByRole('button', { name: 'Put this notice away' }).click();
  await waitForAnswer(page);

  await page.getByRole('radio', { name: 'US', exact: true }).check();
  await shoot('us-units');
  await openStage(page, 'Coats');
  await shoot('us-units-coats');
  await page.getByRole('radio', { name: 'metric', exact: true }).check();
}

/** The cut is worked out in the worker; there is nothing on the page that says it has come. */
const SECTION_MS = 4000;

/** From the left front and a little from above, as the page shows a scan first, whatever was looked at before. */
async function lookAslant(page: Page): Promise<void> {
  await page.keyboard.press('1');
  await page.getByRole('application').focus();
  for (let i = 0; i < TURNS; i++) await page.keyboard.press('ArrowLeft');
  for (let i = 0; i < TILTS; i++) await page.keyboard.press('ArrowUp');
  await page.keyboard.press('f');
}

/** Presses of an arrow key, each 7.5 degrees. */
const TURNS = 4;
const TILTS = 3;

async function clickAlong(page: Page): Promise<void> {
  const view = await page.getByRole('application').boundingBox();
  if (view === null) throw new Error('The figure is not in sight.');
  for (const [across, down] of CLICKS) {
    await page.mouse.click(view.x + across * view.width, view.y + down * view.height);
  }
}
