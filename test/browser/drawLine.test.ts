import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { AUTOSAVE_DELAY_MS } from '../../src/session/Autosave.ts';
import { DOME_RADIUS_MM } from './domeScan.ts';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, type OpenedPage } from './openPage.ts';
import { openStage, readPieces, readShellMass } from './readFigures.ts';
import { atRest, readScale } from './readLook.ts';
import { waitForAnswer } from './waitForAnswer.ts';

/** How far right of the crown the line is drawn, as a share of the half sphere's radius. */
const OFFSET_SHARE = 0.3;

/** How far before and behind the middle its ends are clicked: near the rim, which the line is then drawn on to. */
const END_SHARE = 0.84;

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openDome(browser, inject('pageUrl'));
});
afterEach(() => expectQuiet(opened));
afterAll(() => browser?.close());

test('a line drawn by clicks makes two pieces that sum to the total; undo and redo; a reload brings it all back', async () => {
  const { page } = opened;
  await openStage(page, 'Parting');
  const suggested = { shell: await readShellMass(page), pieces: await readPieces(page) };

  await drawLine(page);
  // A line that is refused comes back under the pencil, with why.
  const refused = page.getByText(/^Not yet a line/);
  await page.getByText('Line 1, yours').or(refused).first().waitFor();
  await waitForAnswer(page);
  expect(await refused.allInnerTexts()).toEqual([]);
  const drawn = { shell: await readShellMass(page), pieces: await readPieces(page) };
  expect(drawn.pieces).toHaveLength(2);
  const { shell, pieces } = drawn;
  const sumG = pieces.reduce((sum, piece) => sum + piece.mass.value, 0);
  const roundingG = pieces.reduce((sum, piece) => sum + piece.mass.rounding, shell.rounding);
  expect(Math.abs(sumG - shell.value)).toBeLessThanOrEqual(roundingG);
  // A plane at x = a divides the half sphere's area as (R - a) to (R + a): Archimedes, On the Sphere and Cylinder I, 42.
  // A click is good to a pixel or two, and the way between two of them is a great circle, not the plane's.
  const areasMm2 = pieces.map((piece) => piece.area.value);
  const wholeMm2 = areasMm2[0] + areasMm2[1];
  const trueShare = (1 - OFFSET_SHARE) / 2;
  expect(Math.abs(Math.min(...areasMm2) / wholeMm2 - trueShare)).toBeLessThan(0.04);
  const trueMm2 = 2 * Math.PI * DOME_RADIUS_MM ** 2;
  expect(Math.abs(wholeMm2 - trueMm2) / trueMm2).toBeLessThan(0.01);

  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByText('Line 1, suggested').waitFor();
  await waitForAnswer(page);
  expect({ shell: await readShellMass(page), pieces: await readPieces(page) }).toEqual(suggested);

  await page.keyboard.press('Control+Shift+Z');
  await page.getByText('Line 1, yours').waitFor();
  await waitForAnswer(page);
  expect({ shell: await readShellMass(page), pieces: await readPieces(page) }).toEqual(drawn);

  // The page promises to lose no more than this much of the latest change, and the write itself takes a moment.
  await page.waitForTimeout(AUTOSAVE_DELAY_MS + 1000);
  await page.reload();
  await page.locator('scute-title-block').getByText('dome.stl').waitFor();
  await waitForAnswer(page);
  await page.getByText('Line 1, yours').waitFor();
  expect({ shell: await readShellMass(page), pieces: await readPieces(page) }).toEqual(drawn);
});

/** From above: three clicks from the front rim over the shoulder to the back rim. */
async function drawLine(page: Page): Promise<void> {
  await page.keyboard.press('5');
  await page.getByRole('figure').getByText('seen from above').waitFor();
  await page.getByRole('button', { name: 'Draw a line' }).click();
  // Of the half sphere at mid height; on the board, farther from the camera, it takes some 7 % fewer pixels.
  const radiusPx = DOME_RADIUS_MM / (await atRest(page, readScale));
  const view = await page.getByRole('application').boundingBox();
  if (view === null) throw new Error('The figure is not in sight.');
  const x = view.x + view.width / 2 + OFFSET_SHARE * radiusPx;
  const y = view.y + view.height / 2;
  for (const along of [END_SHARE, 0, -END_SHARE]) await page.mouse.click(x, y + along * radiusPx);
  await page.getByRole('button', { name: 'Take the line' }).click();
}
