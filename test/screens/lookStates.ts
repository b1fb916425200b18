import type { Page } from 'playwright-core';
import { openStage } from '../browser/readFigures.ts';
import type { ScreenState } from './ScreenState.ts';

const MAP_PATIENCE_MS = 120_000;
/** The cut is worked out in the worker; there is nothing on the page that says it has come. */
const SECTION_MS = 4000;

const PICTURES = ['thickness', 'undercut', 'draft', 'distance'] as const;

/** The ways to look at the mould: apart, in its shell, cut open, and each picture that can lie on it. */
export const LOOK_STATES: readonly ScreenState[] = [
  {
    name: 'apart',
    reach: async (page) => {
      await openStage(page, 'Parting');
      await page.getByRole('checkbox', { name: 'Shell on', exact: true }).uncheck();
      await page.getByLabel('Apart').fill('0.5');
    },
    leave: (page) => page.getByLabel('Apart').fill('0'),
  },
  {
    name: 'shells-apart',
    reach: async (page) => {
      await openStage(page, 'Parting');
      await page.getByRole('checkbox', { name: 'Shell on', exact: true }).check();
      await page.getByLabel('Apart').fill('0.5');
    },
    leave: (page) => page.getByLabel('Apart').fill('0'),
  },
  {
    name: 'shell-on',
    reach: async (page) => {
      await openStage(page, 'Parting');
      await page.getByRole('checkbox', { name: 'Shell on', exact: true }).check();
    },
    leave: (page) => page.getByRole('checkbox', { name: 'Shell on', exact: true }).uncheck(),
  },
  ...PICTURES.map(
    (picture): ScreenState => ({
      name: `map-${picture}`,
      reach: (page) => choosePicture(page, picture),
      leave: (page) => pictureChoice(page).selectOption('pieces'),
    }),
  ),
  {
    name: 'map-range',
    reach: async (page) => {
      await choosePicture(page, 'thickness');
      await rangeButton(page).click();
    },
    leave: async (page) => {
      await rangeButton(page).click();
      await pictureChoice(page).selectOption('pieces');
    },
  },
  {
    name: 'cut-open',
    reach: (page) => cutOpen(page),
    leave: (page) => page.getByRole('checkbox', { name: 'Cut open', exact: true }).uncheck(),
  },
  {
    name: 'cut-open-ruler',
    reach: async (page) => {
      await cutOpen(page);
      await page.getByRole('checkbox', { name: 'Ruler', exact: true }).check();
      const view = await page.getByRole('application').boundingBox();
      if (view === null) throw new Error('The figure is not in sight.');
      for (const across of [0.42, 0.58]) {
        await page.mouse.click(view.x + across * view.width, view.y + 0.5 * view.height);
      }
    },
    leave: async (page) => {
      await page.getByRole('checkbox', { name: 'Ruler', exact: true }).uncheck();
      await page.getByRole('checkbox', { name: 'Cut open', exact: true }).uncheck();
    },
  },
  {
    name: 'legend-open',
    isPerWindow: true,
    inWindows: ['390x844'],
    reach: async (page) => {
      await openStage(page, 'Parting');
      await page.getByRole('button', { name: 'Legend', exact: true }).click();
    },
    leave: (page) => page.getByRole('button', { name: 'Legend', exact: true }).click(),
  },
  {
    name: 'look-open',
    isPerWindow: true,
    inWindows: ['820x1180', '390x844', '1024x768'],
    reach: async (page) => {
      await openStage(page, 'Parting');
      const opener = page.getByRole('button', { name: 'Look', exact: true });
      if (await opener.isVisible()) await opener.click();
    },
    leave: async (page) => {
      const opener = page.getByRole('button', { name: 'Look', exact: true });
      if (await opener.isVisible()) await opener.click();
    },
  },
];

const pictureChoice = (page: Page) => page.getByRole('combobox', { name: 'Picture', exact: true });

/** It is named for the coats too where there is more than one. */
const rangeButton = (page: Page) => page.getByRole('button', { name: /^(Range|Coats, range)$/ });

async function choosePicture(page: Page, picture: (typeof PICTURES)[number]): Promise<void> {
  await openStage(page, 'Parting');
  await pictureChoice(page).selectOption(picture);
  await rangeButton(page).waitFor({ timeout: MAP_PATIENCE_MS });
}

async function cutOpen(page: Page): Promise<void> {
  await openStage(page, 'Coats');
  await page.getByRole('checkbox', { name: 'Cut open', exact: true }).check();
  await page
    .getByText(/from the front$/)
    .first()
    .waitFor();
  await page.waitForTimeout(SECTION_MS);
}
