import type { Page } from 'playwright-core';
import { dropFile } from '../browser/dropFile.ts';
import { openStage } from '../browser/readFigures.ts';
import { waitForAnswer } from '../browser/waitForAnswer.ts';
import { openSetting } from './openSetting.ts';
import type { ScreenState } from './ScreenState.ts';

/** The bytes that every PNG begins with: a picture whose name says STL. */
const NOT_A_SCAN = Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

/** What lies over the sheet or stands at the head of its panel, and what the sheet looks like while it is worked out. */
export const SHEET_STATES: readonly ScreenState[] = [
  {
    name: 'term-open',
    isPerWindow: true,
    show: 'as it is',
    reach: async (page) => {
      await openStage(page, 'Coats');
      await page.getByRole('button', { name: 'reinforced', exact: true }).first().click();
      await page.getByText('A coat with fibre in it').waitFor();
    },
    leave: (page) => page.keyboard.press('Escape'),
  },
  {
    name: 'more-open',
    isPerWindow: true,
    show: 'as it is',
    inWindows: ['1024x768', '820x1180', '390x844'],
    reach: (page) => page.getByRole('button', { name: /^More/ }).click(),
    leave: (page) => page.keyboard.press('Escape'),
  },
  {
    name: 'all-numbers',
    isPerWindow: true,
    inWindows: ['390x844'],
    reach: (page) => page.getByRole('button', { name: /^All numbers/ }).click(),
    leave: (page) => page.getByRole('button', { name: /^All numbers/ }).click(),
  },
  {
    name: 'refused-file',
    reach: async (page) => {
      await openStage(page, 'Scan');
      await dropFile(page, 'photo.stl', NOT_A_SCAN);
      await page.locator('scute-notices').getByRole('listitem').waitFor();
    },
    leave: async (page) => {
      await page.getByRole('button', { name: 'Put this notice away' }).first().click();
      await waitForAnswer(page);
    },
  },
  {
    name: 'stale',
    isPerWindow: true,
    isFleeting: true,
    reach: async (page) => {
      await openStage(page, 'Coats');
      await thicken(page);
      await page.locator('scute-progress').first().waitFor();
    },
    leave: waitForAnswer,
  },
  {
    name: 'changed-numbers',
    reach: async (page) => {
      await openStage(page, 'Coats');
      await thicken(page);
      await waitForAnswer(page);
    },
  },
  {
    name: 'stopped',
    reach: async (page) => {
      await openStage(page, 'Coats');
      await thicken(page);
      await page.getByRole('button', { name: 'Stop', exact: true }).first().click();
      await page.getByText('Stopped', { exact: true }).first().waitFor();
    },
    leave: async (page) => {
      await page.getByRole('button', { name: 'Again', exact: true }).click();
      await waitForAnswer(page);
    },
  },
  {
    name: 'failed',
    reach: async (page) => {
      await openStage(page, 'Scan');
      await page.getByRole('button', { name: 'Cut with a plane' }).click();
      const height = page
        .getByLabel('Height above the board')
        .and(page.locator('input:not([type=range])'))
        .last();
      await height.fill('9000 mm');
      await height.press('Enter');
      await page.getByRole('button', { name: 'Cut it away' }).click();
      await page.getByText('No answer', { exact: true }).first().waitFor();
    },
    leave: async (page) => {
      await page.getByRole('button', { name: 'Undo', exact: true }).first().click();
      await waitForAnswer(page);
    },
  },
  {
    name: 'drawer',
    reach: async (page) => {
      const plans = page.getByRole('button', { name: 'Plans', exact: true });
      await openSetting(page, plans);
      await plans.click();
      await page
        .getByRole('list', { name: 'Kept plans' })
        .or(page.getByText(/^Nothing is kept yet/))
        .first()
        .waitFor();
    },
    leave: (page) =>
      page.locator('scute-plan-drawer').getByRole('button', { name: 'Close', exact: true }).click(),
  },
];

/** Half a millimetre more on the second coat: something to work out. */
async function thicken(page: Page): Promise<void> {
  const field = page
    .locator('scute-coats-panel')
    .getByLabel(/^Thickness of /)
    .and(page.locator('input:not([type=range])'))
    .nth(1);
  const now = Number.parseFloat(await field.inputValue());
  await field.fill(`${now + 0.5} mm`);
  await field.press('Enter');
}
