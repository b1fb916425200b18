import type { Page } from 'playwright-core';

/**
 * Where the figure is clicked, as shares of its width and height: up the middle of the thing. A click beside the thing sets
 * no point, so that there are more than a line needs.
 */
const CLICKS = [
  [0.52, 0.84],
  [0.52, 0.74],
  [0.51, 0.64],
  [0.53, 0.54],
  [0.52, 0.44],
  [0.53, 0.34],
] as const;

/** Clicks up the middle of the figure; with a count, only that often, about its middle. */
export async function clickAlong(page: Page, count: number = CLICKS.length): Promise<void> {
  const first = Math.floor((CLICKS.length - count) / 2);
  const view = await page.getByRole('application').boundingBox();
  if (view === null) throw new Error('The figure is not in sight.');
  for (const [across, down] of CLICKS.slice(first, first + count)) {
    await page.mouse.click(view.x + across * view.width, view.y + down * view.height);
  }
}
