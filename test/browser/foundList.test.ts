import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { writePly } from '../../src/io/writePly.ts';
import { octasphere, openHalfSphere } from '../fixtures/shapes.ts';
import { glbOf, gltfParts, simple3mf } from '../io/sampleModels.ts';
import { dropFile } from './dropFile.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, type OpenedPage, openPage } from './openPage.ts';
import { openStage } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

const DOME = openHalfSphere(40, 20);

/** The dome with two crumbs beside it, and a patch of faces wound the wrong way: those whose middle lies high up in front. */
function damagedDome(): TriMesh {
  const positions = [...DOME.positions];
  const indices = [...DOME.indices];
  for (let t = 0; t < indices.length; t += 3) {
    const middle = (k: number): number =>
      [0, 1, 2].reduce((sum, c) => sum + DOME.positions[3 * indices[t + c] + k] / 3, 0);
    if (middle(1) < -20 && Math.abs(middle(0)) < 12 && middle(2) > 15) {
      [indices[t + 1], indices[t + 2]] = [indices[t + 2], indices[t + 1]];
    }
  }
  for (const x of [55, -55]) {
    const crumb = octasphere(2, 2);
    const first = positions.length / 3;
    crumb.positions.forEach((value, i) => {
      positions.push(value + [x, 0, 30][i % 3]);
    });
    for (const vert of crumb.indices) indices.push(vert + first);
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openPage(browser, inject('pageUrl'));
  await opened.page.getByRole('main').waitFor();
});
afterEach(() => expectQuiet(opened));
afterAll(() => browser?.close());

async function openScan(page: Page, name: string, bytes: Uint8Array): Promise<void> {
  await dropFile(page, name, bytes);
  await page.locator('scute-title-block').getByText(name).waitFor();
  await waitForAnswer(page);
  await openStage(page, 'Scan');
}

test('what was mended is listed with its key; "Show" flies there, "Next" to the next place, and "Show" again lets go', async () => {
  const { page } = opened;
  await openScan(page, 'damaged.ply', writePly(damagedDome()));
  const legend = page.locator('scute-figure-legend');
  await legend.getByText('crumb dropped').waitFor();
  await legend.getByText('faces turned').waitFor();

  const crumbs = page.locator('scute-found-list li').filter({ hasText: '2 loose crumbs' });
  expect(await crumbs.locator('svg').count()).toBe(1);
  await crumbs.getByText('in 2 places').waitFor();
  const show = crumbs.getByRole('button', { name: 'Show' });
  expect(await show.getAttribute('aria-pressed')).toBe('false');
  expect(await crumbs.getByRole('button', { name: 'Next' }).count()).toBe(0);

  // By the keys alone.
  await show.focus();
  await page.keyboard.press('Enter');
  await crumbs.getByText('1 of 2 places').waitFor();
  expect(await show.getAttribute('aria-pressed')).toBe('true');
  const caption = page.locator('scute-figure').getByText(/The scan on its board, seen from/);
  const first = await settled(() => caption.textContent());
  await crumbs.getByRole('button', { name: 'Next' }).click();
  await crumbs.getByText('2 of 2 places').waitFor();
  // The crumbs lie on opposite sides, so the view goes round.
  await expect.poll(() => caption.textContent(), { timeout: 10_000 }).not.toBe(first);
  await show.click();
  await crumbs.getByText('in 2 places').waitFor();
  expect(await show.getAttribute('aria-pressed')).toBe('false');

  // The tick by the keys: off, the crumbs stay in the scan and the list says so; the focus goes along, and undo brings them back.
  const turned = page.locator('scute-found-list li').filter({ hasText: 'turned to face outward' });
  expect(await turned.getByRole('checkbox').count()).toBe(0);
  const tick = crumbs.getByRole('checkbox', { name: /^Mend: 2 loose crumbs/ });
  expect(await tick.isChecked()).toBe(true);
  expect((await crumbs.locator('label').boundingBox())?.height).toBeGreaterThanOrEqual(44);
  await tick.focus();
  await page.keyboard.press('Space');
  await crumbs.getByText('left in: the shell is laid over them').waitFor();
  await page.getByRole('heading', { name: 'Left as it is' }).waitFor();
  await legend.getByText('crumb left in').waitFor();
  await expect.poll(() => tick.evaluate((at) => at.matches(':focus'))).toBe(true);
  expect(await tick.isChecked()).toBe(false);
  await page.keyboard.press('Control+z');
  await crumbs.getByText('dropped').waitFor();
  expect(await tick.isChecked()).toBe(true);
});

test('a GLB and a 3MF open on the page, in the unit that they name', async () => {
  const { page } = opened;
  const metres = { positions: DOME.positions.map((x) => x / 1000), indices: DOME.indices };
  const { json, binary } = gltfParts(metres);
  await openScan(page, 'dome.glb', glbOf(json, binary));
  await page.getByText('The file is in metres: its longest side is 80.0 mm').waitFor();
  await openScan(page, 'dome.3mf', simple3mf(DOME));
  await page.getByText('The file is in millimetres: its longest side is 80.0 mm').waitFor();
});

/** The text once it has stayed the same for half a second. */
async function settled(read: () => Promise<string | null>): Promise<string | null> {
  let last = await read();
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, 500));
    const now = await read();
    if (now === last) return now;
    last = now;
  }
}
