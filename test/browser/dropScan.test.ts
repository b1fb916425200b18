import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { domeCoatMm3, domeScan } from './domeScan.ts';
import { dropFile } from './dropFile.ts';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, type OpenedPage, openPage } from './openPage.ts';
import { openStage, readRow, readShellMass, readVolumeMm3 } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

/** The eight bytes that every PNG begins with (W3C, Portable Network Graphics specification, 5.2), and some more. */
const PICTURE = Uint8Array.from([
  0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52,
]);

/**
 * The STL's triangles, with edges of up to 3.5 mm, lie inside the sphere by at most 3.5^2 / (3 * 2 * 40) = 0.05 mm in the
 * middle, so the radius is short by 0.13 % at most, and a coat, which grows as the radius squared, by twice that.
 */
const CHORD_SHARE = 0.003;

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openDome(browser, inject('pageUrl'));
});
afterEach(() => expectQuiet(opened));
afterAll(() => browser?.close());

test('a dropped STL is read: its coats hold what lies between two half balls', async () => {
  const { page } = opened;
  await openStage(page, 'Coats');
  const { coats } = newPlan('dome.stl');
  let fromMm = 0;
  for (const coat of coats) {
    const toMm = fromMm + coat.thicknessMm;
    const [volume] = await readRow(page, coat.name);
    const shown = readVolumeMm3(volume);
    const trueMm3 = domeCoatMm3(fromMm, toMm);
    const allowedMm3 = shown.rounding + CHORD_SHARE * trueMm3;
    expect(Math.abs(shown.value - trueMm3), `${coat.name}: ${volume} for ${trueMm3} mm3`).toBeLessThan(
      allowedMm3,
    );
    fromMm = toMm;
  }
  await openStage(page, 'Scan');
  await page.getByText('The file names no unit').waitFor();
});

test('a picture named .stl is refused in words, and the plan that was open stays', async () => {
  const { page } = opened;
  const before = await readShellMass(page);
  await dropFile(page, 'picture.stl', PICTURE);
  const slip = page.locator('scute-notices').getByRole('listitem');
  await slip.waitFor();
  const [text] = await slip.allInnerTexts();
  expect(text).toContain('picture.stl was not opened.');
  expect(text).toMatch(/PNG/);
  expect(text).toContain('dome.stl stays open.');
  await waitForAnswer(page);
  expect(await readShellMass(page)).toEqual(before);
  await page.getByRole('button', { name: 'Put this notice away' }).click();
  expect(await slip.count()).toBe(0);
});

test('half an STL is refused with what is missing, and the next good file opens', async () => {
  const { page } = opened;
  const whole = domeScan();
  await dropFile(page, 'half.stl', whole.subarray(0, whole.length / 2));
  const slip = page.locator('scute-notices').getByRole('listitem');
  await slip.waitFor();
  const [text] = await slip.allInnerTexts();
  expect(text).toContain('half.stl was not opened.');
  expect(text).toContain('dome.stl stays open.');
  await dropFile(page, 'again.stl', whole);
  await page.locator('scute-title-block').getByText('again.stl').waitFor();
  await waitForAnswer(page);
  expect(await slip.count()).toBe(0);
});

test('a file is opened by the button too', async () => {
  const picked = await openPage(browser, inject('pageUrl'));
  const { page, close } = picked;
  await openStage(page, 'Scan');
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open a scan or plan' }).click();
  const chooser = await choosing;
  await chooser.setFiles({ name: 'picked.stl', mimeType: 'model/stl', buffer: Buffer.from(domeScan()) });
  await page.locator('scute-title-block').getByText('picked.stl').waitFor();
  await waitForAnswer(page);
  expectQuiet(picked);
  await close();
});
