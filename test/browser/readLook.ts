import type { Page } from 'playwright-core';

/** Where the mould stands in the figure, by the drawing's own furniture, CSS pixels of the figure. */
export interface ShownLook {
  /** Where the height's upper line ends: over the middle of the mould, at its top. */
  readonly crown: { readonly x: number; readonly y: number };
  readonly mmPerPixel: number;
  /** "seen from ...". */
  readonly from: string;
}

/** Reads the look from height, scale bar and caption; throws an Error when the figure shows none, as from above. */
export async function readLook(page: Page): Promise<ShownLook> {
  const shapes = page.getByRole('figure').locator('scute-figure-overlay svg');
  const [height] = await shapes
    .locator('path.thin')
    .evaluateAll((all) => all.map((path) => path.getAttribute('d') ?? ''));
  const [, y, x] = /^M\S+ (\S+)H(\S+)$/.exec(height ?? '') ?? [];
  if (x === undefined || y === undefined) throw new Error('The figure shows no height.');
  const caption = (await page.locator('figcaption').getByText('seen from').textContent()) ?? '';
  return {
    crown: { x: Number(x), y: Number(y) },
    mmPerPixel: await readScale(page),
    from: /seen from ([\w ]+)/.exec(caption)?.[1].trim() ?? '',
  };
}

/**
 * What is read once it stays the same: the figure takes a new size, and the camera with it, a few frames late, and where a processor
 * draws while it works a single frame can take half a second.
 */
export async function atRest<T>(page: Page, read: (page: Page) => Promise<T>): Promise<T> {
  let before = await read(page);
  for (let same = 0; same < LOOKS_ALIKE; ) {
    await page.waitForTimeout(REST_MS);
    const now = await read(page);
    same = JSON.stringify(now) === JSON.stringify(before) ? same + 1 : 0;
    before = now;
  }
  return before;
}

const REST_MS = 400;
const LOOKS_ALIKE = 3;

/** mm on the picture's plane for a pixel, by the scale bar under the figure. */
export async function readScale(page: Page): Promise<number> {
  const shapes = page.getByRole('figure').locator('scute-figure-overlay svg');
  const bar = await shapes.locator('path.thin').last().boundingBox();
  const barMm = Number.parseFloat((await shapes.locator('text.bar').textContent()) ?? '');
  if (bar === null || !(barMm > 0)) throw new Error('The figure shows no scale bar.');
  return barMm / bar.width;
}
