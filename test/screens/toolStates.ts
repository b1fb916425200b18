import type { Page } from 'playwright-core';
import { openStage } from '../browser/readFigures.ts';
import { waitForAnswer } from '../browser/waitForAnswer.ts';
import { clickAlong } from './clickAlong.ts';
import { lookAslant } from './lookAslant.ts';
import type { ScreenState } from './ScreenState.ts';

const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).first().click();
const cancel = (page: Page) => press(page, 'Cancel');
const done = (page: Page) => press(page, 'Done');
const button = (name: string) => (page: Page) => page.getByRole('button', { name, exact: true });
/** A search for partings among all directions. */
const SEARCH_PATIENCE_MS = 240_000;

/** What is done with a tool in the hand, on the stages Scan and Parting. */
export const TOOL_STATES: readonly ScreenState[] = [
  {
    name: 'measuring',
    reach: async (page) => {
      await openStage(page, 'Scan');
      await lookAslant(page);
      await press(page, 'Set by a true distance');
      await clickAlong(page, 2);
      await page.getByText('Between them now').waitFor();
    },
    leave: cancel,
    show: (page) => page.getByText('Between them now'),
  },
  {
    name: 'turning-by-hand',
    reach: async (page) => {
      await openStage(page, 'Scan');
      await press(page, 'Turn by hand');
    },
    leave: done,
    show: (page) => page.getByRole('heading', { name: 'Standing', exact: true }),
  },
  {
    name: 'choosing-the-base',
    reach: async (page) => {
      await openStage(page, 'Scan');
      await press(page, 'This face is the base');
      await page.getByRole('application').focus();
    },
    leave: done,
    show: (page) => page.getByRole('heading', { name: 'Standing', exact: true }),
  },
  {
    name: 'cutting-level',
    reach: (page) => startCut(page, 'level'),
    leave: cancel,
    show: (page) => page.getByRole('heading', { name: 'Cut away', exact: true }),
  },
  {
    name: 'cutting-slanted',
    reach: (page) => startCut(page, 'slanted'),
    leave: cancel,
    show: (page) => page.getByRole('heading', { name: 'Cut away', exact: true }),
  },
  {
    name: 'painting',
    reach: async (page) => {
      await openStage(page, 'Scan');
      await press(page, 'Paint an area');
      await clickAlong(page);
      await page
        .getByText(/dabs?$/)
        .first()
        .waitFor();
    },
    leave: async (page) => {
      await done(page);
      await page
        .getByRole('button', { name: /^Remove / })
        .first()
        .click();
      await waitForAnswer(page);
    },
    show: (page) => page.getByRole('heading', { name: 'Keep clear', exact: true }),
  },
  {
    name: 'drawing',
    reach: async (page) => {
      await openStage(page, 'Parting');
      await page.keyboard.press('1');
      await press(page, 'Draw a line');
      await clickAlong(page);
    },
    leave: cancel,
    show: button('Cancel'),
  },
  {
    name: 'moving-points',
    reach: async (page) => {
      await openStage(page, 'Parting');
      await press(page, 'Move points');
    },
    leave: async (page) => {
      await done(page);
      await lookAslant(page);
    },
  },
  {
    name: 'suggestion-shown',
    reach: async (page) => {
      await openStage(page, 'Parting');
      await press(page, 'Suggest');
      await showFirst(page);
    },
    leave: (page) => page.getByRole('button', { name: 'Show suggestion 1 on the mould' }).click(),
    show: (page) => page.getByRole('list', { name: 'Suggestions, best first' }),
  },
];

/** Not before the search has ended: until then better ones may come and put the list in another order. */
async function showFirst(page: Page): Promise<void> {
  await page
    .getByRole('button', { name: 'Suggest again', disabled: false })
    .waitFor({ timeout: SEARCH_PATIENCE_MS });
  await page.getByRole('button', { name: 'Show suggestion 1 on the mould' }).click();
}

async function startCut(page: Page, kind: 'level' | 'slanted'): Promise<void> {
  await openStage(page, 'Scan');
  await press(page, 'Cut with a plane');
  await page.getByRole('radio', { name: kind, exact: true }).check();
  const place = page.getByRole('slider', { name: /^(Height above the board|So far in)$/ }).last();
  await place.focus();
  await place.press('PageUp');
}
