import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { seededRandom } from '../fixtures/seededRandom.ts';
import type { OpenedPage } from './openPage.ts';
import { openStage } from './readFigures.ts';

/** What the issue allows to be missing after the tab was killed, ms. */
export const MISSING_MS = 2000;

/** Edits go on for at least so long before the tab is killed, ms; some begin while the plan is worked out, some end before. */
const LEAST_MS = 100;

/** Between two edits, ms: from keys held down to a moment's thought. */
const MOST_PAUSE_MS = 700;

/** A plan as it stood in the page from a moment on. */
interface Standing {
  readonly atMs: number;
  readonly planText: string;
}

/** What came of one killing. */
export interface Killing {
  /** From the first change that is missing to the killing, ms; 0: nothing is missing. */
  readonly missingMs: number;
  readonly edits: number;
  /** The tab as it was opened anew. */
  readonly page: Page;
}

/**
 * Edits the open plan by its coats as a hand would, kills the tab's process at a moment of the seed's, opens the page anew in
 * the same browser and finds which of the plans that stood there it is.
 *
 * @param mostMs edits go on for at most so long
 */
export async function killTab(
  opened: OpenedPage,
  page: Page,
  url: string,
  seed: number,
  mostMs: number,
): Promise<Killing> {
  const random = seededRandom(seed);
  await openStage(page, 'Coats');
  const standings = await notePlans(page);
  const context = page.context();
  const cdp = await context.newCDPSession(page);
  const crashed = page.waitForEvent('crash', { timeout: 60_000 });
  let killedAtMs = 0;
  const kill = new Promise<void>((resolve) =>
    setTimeout(
      () => {
        killedAtMs = Date.now();
        // Nothing is left to answer it.
        cdp.send('Page.crash').catch(() => {});
        resolve();
      },
      LEAST_MS + random() * (mostMs - LEAST_MS),
    ),
  );
  while (killedAtMs === 0) {
    try {
      await editOnce(page, random);
    } catch (error) {
      // An edit that the killing broke off is none.
      if (killedAtMs === 0) throw error;
    }
    await Promise.race([kill, new Promise((resolve) => setTimeout(resolve, random() * MOST_PAUSE_MS))]);
  }
  await crashed;
  await page.close();

  const next = await context.newPage();
  await next.goto(url);
  const kept = await readPlan(next);
  const index = standings.findLastIndex(({ planText }) => planText === kept);
  expect(
    index,
    `seed ${seed}: what was opened never stood there: ${kept.slice(0, 400)}`,
  ).toBeGreaterThanOrEqual(0);
  const lost = standings[index + 1];
  expect(opened.troubles).toEqual([]);
  return {
    missingMs: lost ? Math.max(0, killedAtMs - lost.atMs) : 0,
    edits: standings.length - 1,
    page: next,
  };
}

/** One of the changes that the panel of the coats offers. */
async function editOnce(page: Page, random: () => number): Promise<void> {
  const mm = () => `${(2 + 6 * random()).toFixed(2)} mm`;
  const type = async (label: string, text: string) => {
    const field = page.getByLabel(label, { exact: true }).first();
    await field.fill(text, { timeout: 5000 });
    await field.press('Enter');
  };
  const which = Math.floor(random() * 5);
  if (which === 0) await type('All coats together', `${(10 + 10 * random()).toFixed(2)} mm`);
  else if (which === 1) await type('Name of coat 1', `Face ${random().toFixed(6)}`);
  else if (which === 2) {
    const drag = page.getByLabel(/, by dragging$/).first();
    await drag.focus({ timeout: 5000 });
    for (let n = 0; n < 8; n++) await page.keyboard.press(random() < 0.6 ? 'ArrowRight' : 'ArrowLeft');
  } else if (which === 3) await page.keyboard.press('Control+z');
  else
    await page
      .getByLabel(/^Thickness of [^,]*$/)
      .first()
      .fill(mm(), { timeout: 5000 })
      .then(() => page.keyboard.press('Enter'));
}

/** The plans that stand in the page from now on, and since when, told as they come. */
async function notePlans(page: Page): Promise<readonly Standing[]> {
  const standings: Standing[] = [];
  await page.exposeFunction('noteStanding', (atMs: number, plan: unknown) =>
    standings.push({ atMs, planText: sortedText(plan) }),
  );
  await page.evaluate(() => {
    const { store } = (document.querySelector('scute-app') as unknown as AppLike).workshop;
    const { noteStanding } = window as unknown as {
      noteStanding: (atMs: number, plan: unknown) => Promise<void>;
    };
    let last = store.state.plan;
    void noteStanding(Date.now(), last);
    store.subscribe(({ plan }) => {
      if (plan === last) return;
      last = plan;
      void noteStanding(Date.now(), plan);
    });
  });
  return standings;
}

/** The page's own state, as its sheet holds it. */
interface AppLike {
  readonly workshop: {
    readonly store: {
      readonly state: { readonly plan: unknown; readonly scan: unknown };
      subscribe(listener: (state: { readonly plan: unknown }) => void): void;
    };
  };
}

/** The plan that comes with the first scan that is open. */
async function readPlan(page: Page): Promise<string> {
  const plan = await page.evaluate(async () => {
    const app = () => document.querySelector('scute-app') as unknown as AppLike | null;
    while (!app()?.workshop.store.state.scan) await new Promise((resolve) => setTimeout(resolve, 20));
    return app()?.workshop.store.state.plan;
  });
  return sortedText(plan);
}

/** Equal for equal plans, in whichever order their keys stand. */
function sortedText(value: unknown): string {
  return JSON.stringify(value, (_, one: unknown) =>
    one !== null && typeof one === 'object' && !Array.isArray(one)
      ? Object.fromEntries(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : 1)))
      : one,
  );
}
