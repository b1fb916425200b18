import { readFile } from 'node:fs/promises';
import ICAL from 'ical.js';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { AUTOSAVE_DELAY_MS } from '../../src/session/Autosave.ts';
import { DOME_RADIUS_MM } from './domeScan.ts';
import { launchBrowser } from './launchBrowser.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, type OpenedPage } from './openPage.ts';
import { openStage } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

const TEST_MS = 300_000;

let browser: Browser;
let opened: OpenedPage;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openDome(browser, inject('pageUrl'));
  await openStage(opened.page, 'Sheet');
});
afterEach(() => expectQuiet(opened));
afterAll(() => browser?.close());

/** What a button hands to the browser as a download, as text. */
async function download(
  page: Page,
  button: string,
): Promise<{ readonly name: string; readonly text: string }> {
  const waiting = page.waitForEvent('download');
  await page.getByRole('button', { name: button, exact: true }).click();
  const got = await waiting;
  return { name: got.suggestedFilename(), text: await readFile(await got.path(), 'utf8') };
}

/** Rows of a table of batches by the names of its columns; no field of this plan holds a comma. */
function readTable(csv: string): Record<string, string>[] {
  const [head, ...lines] = csv.trim().split('\r\n');
  const names = head.split(',');
  return lines.map((line) => Object.fromEntries(line.split(',').map((cell, i) => [names[i], cell])));
}

const doneCount = (page: Page) => page.locator('scute-title-block .batches .under');
const nextCard = (page: Page) => page.getByRole('region', { name: 'Next batch' });

test(
  'two batches ticked with true weights: the rest is planned anew, in closed form, and a reload keeps it',
  async () => {
    const { page } = opened;
    const before = readTable((await download(page, 'Batches for a spreadsheet')).text);
    expect(before.length).toBe(Number(await page.locator('[data-total="batches"]').textContent()));
    const [first] = before;
    const piece = first.Piece;
    expect(before.filter((row) => row.Piece === piece && row['Coat number'] === '1')).toHaveLength(1);

    // A weight that can be read in two ways is not taken, and nothing is ticked.
    await nextCard(page)
      .getByRole('button', { name: /^Parts meet/ })
      .click();
    await nextCard(page).getByRole('button', { name: 'It is on the wall' }).click();
    const weight = nextCard(page).getByLabel('True weight', { exact: true });
    await weight.fill('1,250');
    await nextCard(page).getByRole('button', { name: 'Tick it off' }).click();
    await nextCard(page)
      .getByText(/can be read in two ways/)
      .waitFor();

    // 60 % of what was to go on the wall: the rest of the bucket is weighed back.
    const share = 0.6;
    const mixedG = Number(first['Mixed (g)']);
    const laidG = share * Number(first['For the wall (g)']);
    await weight.fill(`${mixedG} g`);
    await nextCard(page)
      .getByLabel('Left in the bucket')
      .fill(`${mixedG - laidG} g`);
    await nextCard(page).getByRole('button', { name: 'Tick it off' }).click();
    await doneCount(page).getByText('1 done').waitFor();
    await waitForAnswer(page);
    await page.getByText(/^Coat 1, .* has .* on; .* to go\.$/).waitFor();
    // The batch's own clock has stopped; the cure waits for the coat's last batch.
    await page.getByRole('button', { name: `Done early: ${first.Coat} on ${piece}` }).click();
    const makesUp = page.getByText(/^Coat 2, .* makes it up/);
    await makesUp.waitFor();

    // On a half ball of radius R the first coat holds 2/3 pi ((R + t)^3 - R^3), so that the share s of it reaches to
    // R' = (R^3 + s ((R + t)^3 - R^3))^(1/3) (Archimedes, On the Sphere and Cylinder I, 34). Both halves of the mould are
    // alike. The facets of the scan, the field's grid and half a printed digit take the allowance.
    const [faceMm, buildMm] = newPlan('dome.stl').coats.map((coat) => coat.thicknessMm);
    const radius3 = DOME_RADIUS_MM ** 3;
    const reachedMm =
      Math.cbrt(radius3 + share * ((DOME_RADIUS_MM + faceMm) ** 3 - radius3)) - DOME_RADIUS_MM;
    const got = await page.getByText(/^Coat 1, .* got .* less than planned/).textContent();
    expect(Number(/: ([\d.]+) mm/.exec(got ?? '')?.[1])).toBeCloseTo(reachedMm, 1);
    const secondMm = Number(/makes it up: ([\d.]+) mm/.exec((await makesUp.textContent()) ?? '')?.[1]);
    expect(Math.abs(secondMm - (faceMm + buildMm - reachedMm))).toBeLessThan(0.06);

    // The second coat is planned heavier for it; it is ticked as weighed, and its cure begins.
    await waitForAnswer(page);
    const after = readTable((await download(page, 'Batches for a spreadsheet')).text);
    const wallG = (rows: Record<string, string>[]) =>
      rows
        .filter((row) => row.Piece === piece && row['Coat number'] === '2')
        .reduce((sum, row) => sum + Number(row['For the wall (g)']), 0);
    expect(wallG(after)).toBeGreaterThan(1.1 * wallG(before));
    expect(after[0]['True weight (g)']).toBe(String(mixedG));
    await nextCard(page).getByRole('button', { name: 'It is on the wall' }).click();
    await nextCard(page).getByRole('button', { name: 'Tick it off' }).click();
    await doneCount(page).getByText('2 done').waitFor();
    await waitForAnswer(page);
    const timer = page.getByRole('list', { name: 'Timers' }).getByRole('listitem');
    await timer
      .filter({ hasText: /partial cure/ })
      .first()
      .waitFor();

    const said = await page.getByRole('list', { name: `What the log changes on ${piece}` }).allInnerTexts();
    await page.waitForTimeout(AUTOSAVE_DELAY_MS + 1000);
    await page.reload();
    await page.locator('scute-title-block').getByText('dome.stl').waitFor();
    await waitForAnswer(page);
    await doneCount(page).getByText('2 done').waitFor();
    expect(
      await page.getByRole('list', { name: `What the log changes on ${piece}` }).allInnerTexts(),
    ).toEqual(said);
    await timer
      .filter({ hasText: /partial cure/ })
      .first()
      .waitFor();

    // A tick is taken back as easily.
    await page
      .getByRole('checkbox', { name: new RegExp(`^Batch 1 of 1, ${first.Coat} on ${piece}`) })
      .click();
    await doneCount(page).getByText('1 done').waitFor();
    await waitForAnswer(page);
  },
  TEST_MS,
);

test(
  'the calendar holds every step at its clock time, by a reader that is not ours; the picture goes by keys',
  async () => {
    const { page } = opened;
    expect(await page.getByRole('button', { name: 'Calendar', exact: true }).isDisabled()).toBe(true);
    // A Tuesday: a working day, and so far ahead that what was just logged lies before it and moves nothing.
    await page.getByLabel('First day').fill('2048-12-01');
    await waitForAnswer(page);
    await page.getByText('Tue 1 Dec', { exact: true }).first().waitFor();
    const { name, text } = await download(page, 'Calendar');
    expect(name).toMatch(/\.ics$/);
    const calendar = new ICAL.Component(ICAL.parse(text));
    const starts = calendar
      .getAllSubcomponents('vevent')
      .map((event) => new ICAL.Event(event))
      .map(({ summary, startDate }) => ({ summary, at: startDate.toString().slice(0, 16) }))
      .toSorted((a, b) => (a.at < b.at ? -1 : 1));

    await page.getByText('The steps one by one').click();
    const rows = page.getByRole('table', { name: /^Steps by clock time/ }).locator('tbody tr:has(td)');
    expect(starts).toHaveLength(await rows.count());
    const clock = await rows.first().locator('td').first().textContent();
    expect(starts[0].at).toBe(`2048-12-01T${clock?.trim()}`);
    expect(new Set(starts.map(({ at }) => at.slice(0, 10))).has('2048-12-05')).toBe(false);

    const picture = page.locator('scute-day scute-day-picture').first();
    const bars = picture.getByRole('radio');
    expect(await bars.count()).toBe(await rows.count());
    await picture.locator('[role="radio"][aria-checked="true"]').focus();
    const told = await picture.locator('.detail').textContent();
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => picture.locator('.detail').textContent()).not.toBe(told);
    await page.keyboard.press('ArrowLeft');
    await expect.poll(() => picture.locator('.detail').textContent()).toBe(told);
    expect(await picture.locator('[role="radio"][tabindex="0"]').count()).toBe(1);

    // The saved picture stands by itself: well-formed, its colours in it, nothing that only the page knows.
    const saved = await download(page, 'Save the picture');
    const looks = await page.evaluate((svg) => {
      const read = new DOMParser().parseFromString(svg, 'image/svg+xml');
      return {
        isWhole: read.querySelector('parsererror') === null,
        words: read.documentElement.textContent ?? '',
        unstyled: [...read.querySelectorAll('rect, text')].filter((one) => !one.getAttribute('fill')).length,
        page: read.querySelectorAll('[class], [role], [tabindex]').length,
      };
    }, saved.text);
    expect(looks).toMatchObject({ isWhole: true, unstyled: 0, page: 0 });
    expect(looks.words).toContain('Tue 1 Dec');
    expect(looks.words).toContain('hatched: goes on by itself');
  },
  TEST_MS,
);

test(
  'what is poured presses by its density and depth, and the pieces are weighed for the hands',
  async () => {
    const { page } = opened;
    await openStage(page, 'Mix');
    const casting = page.locator('scute-casting-panel');
    const pressure = casting
      .locator('dl.facts div')
      .filter({ hasText: 'Pressure at its lowest' })
      .locator('dd');
    for (const [poured, densityKgPerM3] of [
      ['Concrete', 2400],
      ['Wax', 960],
    ] as const) {
      await casting.getByLabel('Filled with').selectOption({ label: poured });
      // p = rho g h, with g = 9.80665 m/s2 (NIST SP 811) and the half ball filled to its whole height.
      const kPa = (densityKgPerM3 * 9.80665 * (DOME_RADIUS_MM / 1000)) / 1000;
      await pressure.getByText(`${kPa.toFixed(2)}\u00a0kPa`).waitFor();
      await waitForAnswer(page);
    }
    // A shell of some hundred grams is one person's, every lift of it; the filled half ball as well.
    const lifts = page
      .locator('scute-lifting-panel')
      .getByRole('table', { name: 'Lifts' })
      .locator('tbody tr');
    expect(await lifts.count()).toBeGreaterThan(3);
    expect(await lifts.filter({ hasText: 'one person' }).count()).toBe(await lifts.count());
    await openStage(page, 'Sheet');
  },
  TEST_MS,
);

test(
  'a timer that runs out is said on every stage, and put away by hand',
  async () => {
    const { page } = opened;
    await nextCard(page)
      .getByRole('button', { name: /^Parts meet/ })
      .click();
    await openStage(page, 'Coats');
    const strip = page.locator('scute-next-timer');
    await strip.getByText(/^\d+:\d\d$/).waitFor();
    // The clock is put forward; no working time is as long as three hours.
    await page.clock.install();
    await page.clock.fastForward('03:00:00');
    await strip
      .getByRole('alert')
      .filter({ hasText: /^Over: .*working time/ })
      .waitFor();
    await strip.getByRole('button', { name: /, over$/ }).click();
    await page.getByRole('button', { name: /^Stop the timer .*working time/ }).click();
    await page
      .getByText(/None is running|partial cure/)
      .first()
      .waitFor();
    expect(await page.getByRole('button', { name: /^Stop the timer .*working time/ }).count()).toBe(0);
  },
  TEST_MS,
);
